import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { Readable, Writable } from 'node:stream';
import type { SerialPortLike } from '../../../../renderer/state/supply-link.ts';

const DEVICE = join(import.meta.dirname, 'scpi-device.mjs');
const PTY_IN_PYTHON = 'import pty,sys; pty.spawn(sys.argv[1:])';

type Command = readonly [program: string, args: readonly string[]];

const quoted = (words: readonly string[]): string =>
  words.map((word) => `'${word.replaceAll("'", "'\\''")}'`).join(' ');

/**
 * How this machine makes a pseudo-terminal around a program: util-linux's or BSD's `script`, or Python's pty module; null where
 * there is none of them. Each is tried with a program that says whether it sits at a terminal.
 */
export function ptyMaker(): ((words: readonly string[]) => Command) | null {
  const makers: ((words: readonly string[]) => Command)[] = [
    (words) => ['script', ['-qfec', quoted(words), '/dev/null']],
    (words) => ['script', ['-q', '/dev/null', ...words]],
    (words) => ['python3', ['-c', PTY_IN_PYTHON, ...words]],
  ];
  for (const make of makers) {
    const [program, args] = make([
      process.execPath,
      '-e',
      'console.log("tty " + (process.stdin.isTTY === true))',
    ]);
    const tried = spawnSync(program, args, { encoding: 'utf8', timeout: 10_000, input: '' });
    if (tried.status === 0 && tried.stdout.includes('tty true')) return make;
  }
  return null;
}

/** A port whose far end is the stand-in device at a real pseudo-terminal. Unplugging kills the line. */
export class PtyPort implements SerialPortLike {
  readable: ReadableStream<Uint8Array> | null = null;
  writable: WritableStream<Uint8Array> | null = null;
  opened = 0;
  /** While true the port can't be opened, as with the cable out. */
  out = false;
  private child: ChildProcess | null = null;

  constructor(
    private readonly make: (words: readonly string[]) => Command,
    private readonly log: string,
    private readonly ways: readonly string[],
  ) {}

  async open(): Promise<void> {
    if (this.out) throw new DOMException('Failed to open serial port.', 'NetworkError');
    const [program, args] = this.make([process.execPath, DEVICE, this.log, ...this.ways]);
    const child = spawn(program, args, { stdio: ['pipe', 'pipe', 'ignore'] });
    this.child = child;
    this.opened++;
    child.stdin.on('error', () => {});
    // The device says an empty line once it has set its line raw.
    await new Promise<void>((resolve) => child.stdout.once('readable', resolve));
    this.readable = Readable.toWeb(child.stdout) as ReadableStream<Uint8Array>;
    this.writable = Writable.toWeb(child.stdin) as WritableStream<Uint8Array>;
    child.on('exit', () => {
      this.readable = null;
    });
  }
  unplug(): void {
    this.out = true;
    this.child?.kill('SIGKILL');
  }
  plugIn(): void {
    this.out = false;
  }
  async close(): Promise<void> {
    this.child?.kill('SIGKILL');
    this.readable = null;
    this.writable = null;
  }
  getInfo(): { usbVendorId?: number } {
    return {};
  }
}
