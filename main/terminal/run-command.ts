import { failure } from '../../core/result.ts';
import { printFailure } from './print-failure.ts';
import type { ExitCode, TerminalOutput, Verb } from './verb.ts';

function generalHelp(verbs: readonly Verb[]): string {
  const width = Math.max(...verbs.map((verb) => verb.name.length));
  return [
    'Tankside: from a part’s model to an anodizing run.',
    '',
    'tankside VERB …',
    ...verbs.map((verb) => `  ${verb.name.padEnd(width)}  ${verb.summary}`),
    '',
    'tankside VERB --help   the verb’s options',
    'tankside --version     the version',
    '',
  ].join('\n');
}

/** Runs one command line (without node and the script) and says how it ended; never throws. */
export async function runCommand(
  args: readonly string[],
  verbs: readonly Verb[],
  version: string,
  output: TerminalOutput,
): Promise<ExitCode> {
  const [name, ...rest] = args;
  if (name === '--help' || name === '-h' || name === 'help') {
    output.out(generalHelp(verbs));
    return 0;
  }
  if (name === '--version' || name === '-v') {
    output.out(`${version}\n`);
    return 0;
  }
  if (name === undefined) {
    output.err(generalHelp(verbs));
    return 2;
  }
  const verb = verbs.find((candidate) => candidate.name === name);
  if (!verb) {
    const known = verbs.map((candidate) => candidate.name).join(', ');
    const what = name.startsWith('-') ? 'an option' : 'a verb';
    const unknown = failure(
      'verb-unknown',
      `“${name}” is not ${what} of tankside.`,
      `Verbs: ${known}. See tankside --help.`,
    );
    printFailure(output, unknown.error);
    return 2;
  }
  if (rest.includes('--help') || rest.includes('-h')) {
    output.out(verb.help);
    return 0;
  }
  try {
    return await verb.run(rest, output);
  } catch (cause) {
    const text = cause instanceof Error ? cause.message : String(cause);
    output.err(`tankside ${name}: a fault in the program: ${text.split('\n')[0]}\n`);
    return 1;
  }
}
