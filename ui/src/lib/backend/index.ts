import type { Backend } from './backend';
import { HttpBackend } from './http';
import { TauriBackend } from './tauri';

export * from './backend';

/** The one way down: the app's own window where there is one, else the page's own origin. */
export const backend: Backend =
  typeof window !== 'undefined' && '__TAURI_INTERNALS__' in window
    ? new TauriBackend()
    : new HttpBackend();
