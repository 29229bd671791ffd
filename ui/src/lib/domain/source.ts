import { say } from '../words/say';
import { statusWords } from './plan/defaults';

/** Where a figure comes from and how well that is known; a source that says so itself is not said twice. */
export function sourceWords({ source, status }: { source: string; status: string }): string {
  const itself = (status === 'practice' && source.startsWith('common practice')) || (status === 'memory' && source.startsWith('from memory'));
  return itself ? source : say('defaults.source', { source, status: statusWords(status) });
}
