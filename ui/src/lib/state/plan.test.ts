import { beforeEach, describe, expect, it, vi } from 'vitest';

const core = vi.hoisted(() => ({ drafts: {} as Record<string, unknown>, problems: [] as object[], asked: [] as string[] }));

vi.mock('../backend', () => ({
  backend: {
    ask: async (request: string) => {
      core.asked.push(request);
      if (request === 'drafts') return core.drafts;
      if (request === 'look_at_plan') return { problems: core.problems, drawing: null, section: null, answer: null, figures: null };
      return request === 'look_at_shape' ? { drawing: { outline: [] }, outline: null, whole: false } : [];
    },
  },
  Fault: { from: (thrown: unknown) => thrown },
}));

import { emptyForm } from '../domain/plan/form';
import { drafts } from './drafts.svelte';
import { PlanDraft } from './plan.svelte';

const problem = (at: string) => ({ at, problem: 'this is missing', right: 'a number' });

async function draftWith(kept: Record<string, unknown>, problems: object[] = []): Promise<PlanDraft> {
  Object.assign(core, { drafts: kept, problems });
  await drafts.load();
  const draft = new PlanDraft(null, null);
  await vi.waitFor(() => expect(draft.look).not.toBeNull());
  return draft;
}

beforeEach(() => (core.asked = []));

describe('a plan being typed', () => {
  it('keeps what was typed before its form had all of its fields', async () => {
    const { title, length } = { ...emptyForm(), title: 'Patio', length: '4' };
    const draft = await draftWith({ 'plan.new': { form: { title, length }, file: null } });
    expect([draft.form.title, draft.form.length, draft.form.shape]).toEqual(['Patio', '4', 'rectangle']);
    expect(draft.changes).toBe(true);
  });

  it('begins anew where what was kept is of another kind', async () => {
    const draft = await draftWith({ 'plan.new': { form: { title: 7 }, file: null } });
    expect(draft.form.title).toBe('');
    expect(draft.changes).toBe(false);
  });

  it('is drawn by its shape alone while the rest of it is missing', async () => {
    const draft = await draftWith({});
    await vi.waitFor(() => expect(draft.drawing).not.toBeNull());
    expect(core.asked).toContain('look_at_shape');
  });

  it('says a problem beside its field where there is one, else on its page, and nowhere twice', async () => {
    const draft = await draftWith({}, [problem('/outline/ties/corners/1/a_m'), problem('/outline/ties'), problem('/title')]);
    draft.everything = true;
    const places = () => draft.loose('shape').map((p) => p.at);
    expect(places()).toEqual(['/outline/ties/corners/1/a_m', '/outline/ties']);
    const done = draft.claim('/outline/ties/corners', true);
    expect(places()).toEqual(['/outline/ties']);
    done();
    expect(places()).toHaveLength(2);
    expect(draft.problemsIn('/outline/ties/corners/1')).toHaveLength(1);
  });

  it('says nothing of a page that nobody has begun', async () => {
    const draft = await draftWith({}, [problem('/outline/ties'), problem('/surface/spots')]);
    expect(draft.loose('shape')).toEqual([]);
    draft.left['/outline/ties/base_m'] = true;
    expect(draft.loose('shape')).toHaveLength(1);
    expect(draft.loose('levels')).toEqual([]);
  });

  it('is thrown away when it is told to', async () => {
    const draft = await draftWith({ 'plan.new': { form: { title: 'Patio' }, file: null } });
    draft.afresh();
    expect([draft.form.title, draft.changes]).toEqual(['', false]);
    await vi.waitFor(() => expect(core.asked).toContain('keep_draft'));
  });
});
