import { parseArgs, type ParseArgsConfig } from 'node:util';
import { MODEL_UNITS, type ModelUnit } from '../../core/job/job.ts';
import { failure, success, type Failure, type Result } from '../../core/result.ts';

type OptionTable = NonNullable<ParseArgsConfig['options']>;

/** What Node's parser makes of a table of options. */
export type CommandLine<T extends OptionTable> = Pick<
  ReturnType<typeof parseArgs<{ args: string[]; options: T; allowPositionals: true }>>,
  'values' | 'positionals'
>;

/**
 * Node's parser with its message made a Failure, `option-unknown`.
 *
 * @param args after the verb
 */
export function readCommandLine<T extends OptionTable>(
  verb: string,
  args: readonly string[],
  options: T,
): Result<CommandLine<T>> {
  try {
    return success(parseArgs({ args: joinSigned(args, options), options, allowPositionals: true }));
  } catch (cause) {
    // Node's first sentence; the rest is about "--" and says less than our help.
    const text = (cause instanceof Error ? cause.message : String(cause))
      .split(/\.\s|\n/)[0]!
      .replace(/\.$/, '');
    return failure('option-unknown', `${text}.`, `See tankside ${verb} --help for the options there are.`);
  }
}

/** Node takes "-1mil" or "-1,0,0" after an option for another option; joined by "=" it is the value that was meant. */
function joinSigned(args: readonly string[], options: OptionTable): string[] {
  const joined: string[] = [];
  for (let i = 0; i < args.length; i++) {
    const next = args[i + 1];
    const takesText = options[args[i]!.replace(/^--/, '')]?.type === 'string';
    if (args[i]!.startsWith('--') && takesText && next !== undefined && /^-[\d.]/.test(next)) {
      joined.push(`${args[i]}=${next}`);
      i++;
    } else joined.push(args[i]!);
  }
  return joined;
}

/** A saved job is known by its ending, so that it opens as with npm start. */
export const isJobName = (name: string): boolean => /\.tankside$/i.test(name);

export function optionFailure(
  option: string,
  message: string,
  remedy: string,
): { ok: false; error: Failure } {
  return failure('option-invalid', `--${option}: ${message}`, remedy);
}

/** "--unit mm --unit in" or "--unit mm,in". Failure: `unit-unknown`. */
export function readUnits(texts: readonly string[]): Result<ModelUnit[]> {
  const units: ModelUnit[] = [];
  for (const text of texts.flatMap((list) => list.split(','))) {
    const unit = MODEL_UNITS.find((candidate) => candidate === text.trim().toLowerCase());
    if (!unit) {
      return failure(
        'unit-unknown',
        `--unit: “${text}” is not a unit of a model.`,
        `Use ${MODEL_UNITS.join(', ')}.`,
      );
    }
    units.push(unit);
  }
  return success(units);
}
