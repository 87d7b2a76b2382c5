import { parseArgs } from 'node:util';
import { failure, success, type Result } from '../../core/result.ts';

export interface LaunchArguments {
  readonly files: readonly string[];
  /** Serve the page for a browser even where Electron is there. */
  readonly browser: boolean;
  /** Print the address only. */
  readonly openBrowser: boolean;
  /** 0 when none was asked for. */
  readonly port: number;
  readonly help: boolean;
}

export const launchHelp = `Tankside: from a part's model to a sheet at the tank.

npm start                     opens the demo part
npm start -- FILE [FILE…]     opens models (.step, .stl, .obj, .ply, .3mf) or a job (.tankside)

  --browser     serve the page for a browser instead of opening a window
  --no-open     print the address and leave the browser alone
  --port N      serve on this port (1 to 65535; without it 18620, or any free one)
  --help        show this
`;

/** @param args without node and the script */
export function launchArguments(args: readonly string[]): Result<LaunchArguments> {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      options: {
        browser: { type: 'boolean', default: false },
        'no-open': { type: 'boolean', default: false },
        port: { type: 'string' },
        help: { type: 'boolean', short: 'h', default: false },
      },
      allowPositionals: true,
    });
    const port = values.port === undefined ? 0 : Number(values.port);
    if (!/^\d+$/.test(values.port ?? '0') || port > 65_535 || values.port === '0') {
      return failure(
        'port-invalid',
        `"${values.port}" is not a port.`,
        'Give --port a whole number from 1 to 65535.',
      );
    }
    return success({
      files: positionals,
      browser: values.browser,
      openBrowser: !values['no-open'],
      port,
      help: values.help,
    });
  } catch (cause) {
    // Node's sentence, without its advice about "--" and with one full stop.
    const text = (cause instanceof Error ? cause.message : String(cause))
      .split(/\.\s/)[0]
      ?.replace(/\.$/, '');
    return failure('option-unknown', `${text}.`, 'See --help for the options there are.');
  }
}
