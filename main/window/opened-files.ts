import type { FileSource } from '../../core/bridge/bridge.ts';

/**
 * Files named from outside: on the command line, by a second start, by the system's file manager. Until the page
 * asks for its first files they wait; after that they are sent.
 */
export class OpenedFiles {
  readonly #send: (files: readonly FileSource[]) => void;
  #waiting: FileSource[] = [];
  #pageAsked = false;

  constructor(send: (files: readonly FileSource[]) => void) {
    this.#send = send;
  }

  open(files: readonly FileSource[]): void {
    if (files.length === 0) return;
    if (this.#pageAsked) this.#send(files);
    else this.#waiting.push(...files);
  }

  /** The files that wait, each handed out once: a page loaded again does not open them again. */
  takeWaiting(): readonly FileSource[] {
    const files = this.#waiting;
    this.#waiting = [];
    this.#pageAsked = true;
    return files;
  }

  /** The page is gone, as when the window was closed on macOS: what comes now waits for the next. */
  pageGone(): void {
    this.#pageAsked = false;
  }
}
