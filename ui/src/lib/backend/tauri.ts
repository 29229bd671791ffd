import { invoke } from '@tauri-apps/api/core';

import {
  Fault, type Arguments, type Backend, type DataFile, type KeptPhoto, type MadeRecord, type RecordOrder, type Reply,
  type Request, type SheetOrder, type Verdict,
} from './backend';

/** Android's web view passes on no bytes, only text: Tauri would write them out as a list of numbers. */
const textOnly = () => navigator.userAgent.includes('Android');

/** The program in the same app: commands of the window. */
export class TauriBackend implements Backend {
  ask<K extends Request>(request: K, args: Arguments<K>): Promise<Reply<K>> {
    return call<Reply<K>>('ask', { request, args });
  }

  async keepPhoto(bytes: Uint8Array): Promise<KeptPhoto> {
    return call<KeptPhoto>('keep_photo', await sent(bytes));
  }

  leftPhoto(): Promise<KeptPhoto | null> {
    return call<KeptPhoto | null>('left_photo', {});
  }

  async photo(sha256: string, thumb: boolean): Promise<Blob> {
    const bytes = await call<ArrayBuffer>('photo', { sha256, thumb });
    return new Blob([bytes], { type: 'image/jpeg' });
  }

  makeRecord({ job, issue, paper }: RecordOrder): Promise<MadeRecord> {
    return call<MadeRecord>('make_record', { job, issue, paper });
  }

  makeSheet(order: SheetOrder): Promise<MadeRecord> {
    return call<MadeRecord>('make_sheet', { ...order });
  }

  makeData(job: string): Promise<DataFile[]> {
    return call<DataFile[]>('make_data', { job });
  }

  paperProgress(): Promise<[number, number] | null> {
    return call<[number, number] | null>('paper_progress', {});
  }

  stopPaper(): Promise<boolean> {
    return call<boolean>('stop_paper', {});
  }

  async verifyPaper(bytes: Uint8Array): Promise<Verdict> {
    return call<Verdict>('verify_paper', await sent(bytes));
  }

  async paperPage(file: string, page: number): Promise<Blob> {
    const bytes = await call<ArrayBuffer>('paper_page', { file, page });
    return new Blob([bytes], { type: 'image/svg+xml' });
  }

  savePaper(file: string): Promise<{ path: string | null }> {
    return call<{ path: string | null }>('save_paper', { file });
  }

  canShare(): Promise<boolean> {
    return call<boolean>('can_share', {});
  }

  sharePaper(file: string): Promise<void> {
    return call<void>('share_paper', { file });
  }

  keepAwake(on: boolean): Promise<boolean> {
    return call<boolean>('keep_awake', { on });
  }
}

/** A file's bytes as the web view passes them on. */
async function sent(bytes: Uint8Array): Promise<Record<string, unknown> | Uint8Array> {
  return textOnly() ? { base64: await base64(bytes) } : bytes;
}

function base64(bytes: Uint8Array): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onerror = () => reject(reader.error ?? new Error('not read'));
    // What comes before the comma says that base64 follows.
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ''));
    reader.readAsDataURL(new Blob([bytes as Uint8Array<ArrayBuffer>]));
  });
}

async function call<T>(command: string, args: Record<string, unknown> | Uint8Array): Promise<T> {
  try {
    return await invoke<T>(command, args);
  } catch (thrown) {
    throw Fault.from(thrown);
  }
}
