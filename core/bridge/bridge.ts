import type { Result } from '../result.ts';

/** A file the user chose, dropped or named on the command line. Only such files are ever readable by the page. */
export interface FileSource {
  readonly name: string;
  readonly byteLength: number;
  /** What to read: a Blob (browser), or an address on the page's own origin that serves the granted file. */
  readonly content: FileContent;
  /** Where "Save" may write this file back; absent when it can only be saved as a new file. */
  readonly target?: SaveTarget;
}

/** Structural, so that core needs no DOM: the browser's Blob and File satisfy it. */
export interface BlobLike {
  readonly size: number;
  arrayBuffer(): Promise<ArrayBuffer>;
}

export type FileContent =
  { readonly via: 'blob'; readonly blob: BlobLike } | { readonly via: 'url'; readonly url: string };

/** Opaque to the page; made and understood by the bridge alone. */
export interface SaveTarget {
  readonly id: string;
  readonly name: string;
}

export interface RecentJob {
  readonly id: string;
  readonly name: string;
  /** Milliseconds since 1970, UTC. */
  readonly openedAtMs: number;
}

export interface SaveRequest {
  readonly bytes: Uint8Array;
  readonly suggestedName: string;
  /** null asks the user where. */
  readonly target: SaveTarget | null;
}

/** What the shell's own menu asks of the page. */
export type MenuCommand = 'new' | 'model' | 'open' | 'save' | 'save-as' | 'undo' | 'redo';

/** A serial port the system has. */
export interface FoundSerialPort {
  readonly id: string;
  readonly name: string;
  readonly detail: string;
}

export interface SerialPortChooser {
  /** Called with the ports after the page has asked for one, and again when they change; null when the question is over. */
  onFound(listener: (ports: readonly FoundSerialPort[] | null) => void): () => void;
  /** null: none of them. */
  choose(id: string | null): void;
}

/**
 * Everything the page cannot do by itself, the same in Electron (through the preload) and in a plain browser (with
 * its own means). A user's "cancel" is an empty list or a null value, never a Failure.
 */
export interface WindowState {
  readonly title: string;
  readonly unsaved: boolean;
  /** A run of this window, not practise, that has not ended: the computer stays awake for it. */
  readonly runGoesOn: boolean;
}

export interface Bridge {
  readonly shell: 'electron' | 'browser';
  /** Files named on the command line, once. */
  startupFiles(): Promise<readonly FileSource[]>;
  /** Files opened later from outside (a second start, the system's file manager). Returns the unsubscriber. */
  onFilesOpened(listener: (files: readonly FileSource[]) => void): () => void;
  /** Where the shell has a menu of its own. Returns the unsubscriber. */
  onMenuCommand?(listener: (command: MenuCommand) => void): () => void;
  chooseFiles(kind: 'model' | 'job'): Promise<readonly FileSource[]>;
  /** Dropped or pasted files; in Electron this is where their path is granted. */
  adoptDropped(files: readonly BlobLike[]): Promise<readonly FileSource[]>;
  /** Writes atomically: beside the target, flushed, then renamed over it. */
  saveJob(request: SaveRequest): Promise<Result<SaveTarget | null>>;
  /** Tells the shell that the page has read a job whole, where the shell keeps copies itself (the browser). */
  noteOpened?(name: string, bytes: Uint8Array): Promise<void>;
  recentJobs(): Promise<readonly RecentJob[]>;
  openRecent(id: string): Promise<Result<FileSource>>;
  /** The shell shows title and unsaved mark, and asks before a window closes that is unsaved or keeps a run. */
  showWindowState(state: WindowState): void;
  /**
   * Where the shell has no chooser of its own for serial ports: the page shows what was found and answers. Absent in a browser,
   * which asks by itself.
   */
  readonly serialPorts?: SerialPortChooser;
  /** Writes the current page as PDF where the shell can; absent where the browser's print dialog does it. */
  savePdf?(suggestedName: string): Promise<Result<SaveTarget | null>>;
}
