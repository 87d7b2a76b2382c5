import type { Failure } from '../../core/result.ts';
import type { TerminalOutput } from './verb.ts';

/** Cause and remedy, a line each. `about` names the file or option it concerns. */
export function printFailure(output: TerminalOutput, failure: Failure, about?: string): void {
  output.err(`${about === undefined ? '' : `${about}: `}${failure.message}\n  ${failure.remedy}\n`);
}
