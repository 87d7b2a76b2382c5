/** Which bores have a plug in them while the part hangs. A worker takes it as it is. */
export interface Plugs {
  /** Per triangle of the part: 1 on the wall of a bore with a plug. */
  readonly onTriangle: Uint8Array;
  readonly count: number;
  /** Says which bores they are: what was found for other plugs is no longer true. */
  readonly key: string;
}
