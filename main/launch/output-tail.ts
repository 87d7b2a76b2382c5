import type { Readable } from 'node:stream';

const KEPT_CHARACTERS = 8192;

/** Keeps the end of what a process says, for the message when it fails. */
export function outputTail(stream: Readable, alsoTo?: NodeJS.WritableStream): () => string {
  let tail = '';
  stream.setEncoding('utf8');
  stream.on('data', (text: string) => {
    tail = (tail + text).slice(-KEPT_CHARACTERS);
    alsoTo?.write(text);
  });
  return () => tail;
}
