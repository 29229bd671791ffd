import {
  Fault, type Arguments, type Backend, type DataFile, type KeptPhoto, type MadeRecord, type RecordOrder, type Reply,
  type Request, type SheetOrder, type Verdict,
} from './backend';

/** The same commands over the same origin, for looking at the screens in a browser. */
export class HttpBackend implements Backend {
  async ask<K extends Request>(request: K, args: Arguments<K>): Promise<Reply<K>> {
    return (await post('ask', json({ request, args }))).json() as Promise<Reply<K>>;
  }

  async keepPhoto(bytes: Uint8Array): Promise<KeptPhoto> {
    return (await post('keep_photo', octets(bytes))).json() as Promise<KeptPhoto>;
  }

  async leftPhoto(): Promise<KeptPhoto | null> {
    return (await post('left_photo', json({}))).json() as Promise<KeptPhoto | null>;
  }

  async photo(sha256: string, thumb: boolean): Promise<Blob> {
    return typed(await post('photo', json({ sha256, thumb })), 'image/jpeg');
  }

  async makeRecord({ job, issue, paper }: RecordOrder): Promise<MadeRecord> {
    return (await post('make_record', json({ job, issue, paper }))).json() as Promise<MadeRecord>;
  }

  async makeSheet(order: SheetOrder): Promise<MadeRecord> {
    return (await post('make_sheet', json(order))).json() as Promise<MadeRecord>;
  }

  async makeData(job: string): Promise<DataFile[]> {
    return (await post('make_data', json({ job }))).json() as Promise<DataFile[]>;
  }

  async paperProgress(): Promise<[number, number] | null> {
    return (await post('paper_progress', json({}))).json() as Promise<[number, number] | null>;
  }

  async stopPaper(): Promise<boolean> {
    return (await post('stop_paper', json({}))).json() as Promise<boolean>;
  }

  async verifyPaper(bytes: Uint8Array): Promise<Verdict> {
    return (await post('verify_paper', octets(bytes))).json() as Promise<Verdict>;
  }

  async paperPage(file: string, page: number): Promise<Blob> {
    return typed(await post('paper_page', json({ file, page })), 'image/svg+xml');
  }

  async savePaper(file: string): Promise<{ path: string | null }> {
    return (await post('save_paper', json({ file }))).json() as Promise<{ path: string | null }>;
  }

  async canShare(): Promise<boolean> {
    return (await post('can_share', json({}))).json() as Promise<boolean>;
  }

  async sharePaper(file: string): Promise<void> {
    await post('share_paper', json({ file }));
  }

  async keepAwake(on: boolean): Promise<boolean> {
    return (await post('keep_awake', json({ on }))).json() as Promise<boolean>;
  }
}

function octets(bytes: Uint8Array): Blob {
  return new Blob([bytes as Uint8Array<ArrayBuffer>], { type: 'application/octet-stream' });
}

function json(args: object): Blob {
  return new Blob([JSON.stringify(args)], { type: 'application/json' });
}

async function typed(response: Response, type: string): Promise<Blob> {
  return new Blob([await response.arrayBuffer()], { type });
}

/** A request this small goes on when the page goes (Fetch standard, keepalive: 64 KiB in all). */
const MOST_ALIVE = 32_768;

async function post(command: string, body: Blob): Promise<Response> {
  let response: Response;
  try {
    const headers = { 'content-type': body.type };
    response = await fetch(`/ipc/${command}`, { method: 'POST', headers, body, keepalive: body.size < MOST_ALIVE });
  } catch (thrown) {
    throw Fault.from(thrown);
  }
  if (response.ok) return response;
  throw Fault.from(await response.text());
}
