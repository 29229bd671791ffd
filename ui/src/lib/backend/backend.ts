import type { Requests } from '../generated/requests';

/** A request of the core by name. */
export type Request = keyof Requests;
export type Arguments<K extends Request> = Requests[K]['arguments'];
export type Reply<K extends Request> = Requests[K]['answer'];

/** What the screens may ask of the program under them, however it is reached. */
export interface Backend {
  /** Answers one request of the core by name. */
  ask<K extends Request>(request: K, args: Arguments<K>): Promise<Reply<K>>;
  /** Keeps a photo's bytes; the answer names what was kept. */
  keepPhoto(bytes: Uint8Array): Promise<KeptPhoto>;
  /** Keeps the photo that the camera took while the phone had closed the app, if there is one. */
  leftPhoto(): Promise<KeptPhoto | null>;
  /** A kept photo as a JPEG, small or whole. */
  photo(sha256: string, thumb: boolean): Promise<Blob>;
  /** Draws up a completion record: a draft, or an issue with its number. */
  makeRecord(order: RecordOrder): Promise<MadeRecord>;
  /** Makes a paper that is not sealed. */
  makeSheet(order: SheetOrder): Promise<MadeRecord>;
  /** Writes a job as data for other programs. */
  makeData(job: string): Promise<DataFile[]>;
  /** How far the paper in the making is: steps done, of how many; nothing where none is being made. */
  paperProgress(): Promise<[number, number] | null>;
  /** Stops the paper in the making; says whether there was one to stop. */
  stopPaper(): Promise<boolean>;
  /** Checks a sealed paper by its bytes. */
  verifyPaper(bytes: Uint8Array): Promise<Verdict>;
  /** One page of a paper as a drawing, counted from 0. */
  paperPage(file: string, page: number): Promise<Blob>;
  /** Saves a copy of a paper and says where it went; nowhere when no place was chosen. */
  savePaper(file: string): Promise<{ path: string | null }>;
  /** Whether papers can be shared from here. */
  canShare(): Promise<boolean>;
  /** Opens the phone's share sheet over a copy of a paper. */
  sharePaper(file: string): Promise<void>;
  /** Keeps the screen awake where the page itself cannot; says whether it will be. */
  keepAwake(on: boolean): Promise<boolean>;
}

export interface KeptPhoto {
  sha256: string;
  width_px: number;
  height_px: number;
}

export type PaperSize = 'a4' | 'letter';

export interface RecordOrder {
  job: string;
  issue: boolean;
  paper: PaperSize;
}

export interface MadeRecord {
  file: string;
  pages: number;
  number: number | null;
}

/** The papers that are not sealed. */
export type SheetKind = 'setting_out' | 'order_list' | 'care_sheet' | 'change_note';

export interface SheetOrder {
  job: string;
  kind: SheetKind;
  /** The number of the change that a change note is of. */
  change: number | null;
  /** Whether templates at their true size follow the setting-out sheet. */
  templates: boolean;
  paper: PaperSize;
}

export interface DataFile {
  file: string;
  bytes: number;
  /** How it begins. */
  begins: string;
}

/** What came of checking a sealed paper, in the core's words. */
export interface Verdict {
  ok: boolean;
  checked: { what: string; ok: boolean }[];
  says: string;
  notes: string[];
  limits: string[];
}

/** A problem with something that was sent: where it is, what is wrong, what would be right. */
export interface Trouble {
  at: string;
  problem: string;
  right: string;
}

/** Something that could not be done. The screens choose words by its code. */
export class Fault extends Error {
  readonly code: string;
  readonly details: Record<string, unknown>;

  constructor(code: string, details: Record<string, unknown> = {}) {
    super(code);
    this.code = code;
    this.details = details;
  }

  /** Every problem that came with it, when it is about what was sent. */
  get problems(): Trouble[] {
    const problems = this.details.problems;
    return Array.isArray(problems) ? (problems as Trouble[]) : [];
  }

  /** Reads a fault out of whatever was thrown; what is not ours is a fault of the machine. */
  static from(thrown: unknown): Fault {
    if (thrown instanceof Fault) return thrown;
    const plain = typeof thrown === 'string' ? readJson(thrown) : thrown;
    if (plain && typeof plain === 'object' && 'code' in plain && typeof plain.code === 'string') {
      const details = 'details' in plain ? plain.details : null;
      return new Fault(plain.code, isRecord(details) ? details : {});
    }
    const text = thrown instanceof Error ? thrown.message : String(thrown);
    return new Fault('machine', { text });
  }
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
