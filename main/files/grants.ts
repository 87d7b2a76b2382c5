import { randomBytes } from 'node:crypto';
import { basename } from 'node:path';
import { isJobFileName } from '../../core/bridge/file-kinds.ts';

export interface Grant {
  readonly path: string;
  readonly name: string;
  /** True for a job file alone: a model is never written. */
  readonly mayWrite: boolean;
}

/**
 * The files that the user chose, dropped or named on the command line. The page only ever holds the token: 24
 * random bytes that can neither be guessed nor turned into a path.
 */
export class Grants {
  readonly #byToken = new Map<string, Grant>();
  readonly #tokenByPath = new Map<string, string>();

  /** `path` is absolute. The same path gets the same token again. */
  grant(path: string): string {
    const known = this.#tokenByPath.get(path);
    if (known !== undefined) return known;
    const token = randomBytes(24).toString('base64url');
    const name = basename(path);
    this.#byToken.set(token, { path, name, mayWrite: isJobFileName(name) });
    this.#tokenByPath.set(path, token);
    return token;
  }

  find(token: string): Grant | undefined {
    return this.#byToken.get(token);
  }
}
