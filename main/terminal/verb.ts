/** Where a verb writes. Standard output carries the result alone; everything else goes to standard error. */
export interface TerminalOutput {
  out(text: string): void;
  err(text: string): void;
}

/** 0 done, 1 a fault of the program, 2 something in the input. */
export type ExitCode = 0 | 1 | 2;

/** One command of the terminal. Each lives in a file of its own and stands in the table of verbs.ts. */
export interface Verb {
  readonly name: string;
  /** One line for the list of verbs. */
  readonly summary: string;
  readonly help: string;
  run(args: readonly string[], output: TerminalOutput): Promise<ExitCode>;
}
