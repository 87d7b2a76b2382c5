/** Bytes written one after the other, growing as needed. */
export class GrowingBytes {
  bytes: Uint8Array<ArrayBuffer>;
  view: DataView;
  length = 0;

  constructor(size: number) {
    this.bytes = new Uint8Array(size);
    this.view = new DataView(this.bytes.buffer);
  }

  reserve(more: number): void {
    if (this.length + more <= this.bytes.length) return;
    const larger = new Uint8Array(Math.max(this.bytes.length * 2, this.length + more));
    larger.set(this.bytes.subarray(0, this.length));
    this.bytes = larger;
    this.view = new DataView(larger.buffer);
  }

  copy(from: Uint8Array, start: number, end: number): void {
    this.reserve(end - start + 1);
    for (let i = start; i < end; i++) this.bytes[this.length++] = from[i]!;
  }
}
