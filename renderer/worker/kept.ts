/**
 * What a worker keeps between jobs, by key: the least recently used goes first when there are too many. Ending the
 * worker frees everything at once.
 */
export class Kept<T> {
  readonly #entries = new Map<string, T>();
  readonly #most: number;

  constructor(most: number) {
    if (!(Number.isInteger(most) && most > 0)) throw new RangeError(`Kept: most is ${most}`);
    this.#most = most;
  }

  put(key: string, value: T): void {
    this.#entries.delete(key);
    this.#entries.set(key, value);
    for (const oldest of this.#entries.keys()) {
      if (this.#entries.size <= this.#most) break;
      this.#entries.delete(oldest);
    }
  }

  get(key: string): T | undefined {
    const value = this.#entries.get(key);
    if (value !== undefined) {
      this.#entries.delete(key);
      this.#entries.set(key, value);
    }
    return value;
  }

  drop(key: string): void {
    this.#entries.delete(key);
  }
}
