import { invoke } from '@tauri-apps/api/core';

import {
  Fault, type Arguments, type Backend, type KeptPhoto, type MadeRecord, type RecordOrder, type Reply, type Request,
} from './backend';

/** The program in the same app: commands of the window. */
export class TauriBackend implements Backend {
  ask<K extends Request>(request: K, args: Arguments<K>): Promise<Reply<K>> {
    return call<Reply<K>>('ask', { request, args });
  }

  keepPhoto(bytes: Uint8Array): Promise<KeptPhoto> {
    return call<KeptPhoto>('keep_photo', bytes);
  }

  async photo(sha256: string, thumb: boolean): Promise<Blob> {
    const bytes = await call<ArrayBuffer>('photo', { sha256, thumb });
    return new Blob([bytes], { type: 'image/jpeg' });
  }

  makeRecord({ job, issue, paper }: RecordOrder): Promise<MadeRecord> {
    return call<MadeRecord>('make_record', { job, issue, paper });
  }

  async paperPage(file: string, page: number): Promise<Blob> {
    const bytes = await call<ArrayBuffer>('paper_page', { file, page });
    return new Blob([bytes], { type: 'image/svg+xml' });
  }

  savePaper(file: string): Promise<{ path: string }> {
    return call<{ path: string }>('save_paper', { file });
  }
}

async function call<T>(command: string, args: Record<string, unknown> | Uint8Array): Promise<T> {
  try {
    return await invoke<T>(command, args);
  } catch (thrown) {
    throw Fault.from(thrown);
  }
}
