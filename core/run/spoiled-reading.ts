/** Bends of a smooth line are smaller than so many times its noise. */
const SPOILED = 6;

/** One spoiled reading bends a line one way at itself and half as much the other way at its neighbours: the line passes over it. */
export function passOverSpoiled(line: Float64Array, noise: number): void {
  const bends = line.map((x, i) =>
    i === 0 || i === line.length - 1 ? 0 : x - (line[i - 1]! + line[i + 1]!) / 2,
  );
  for (let i = 2; i < line.length - 2; i++) {
    const bend = bends[i]!;
    const isHalf = (other: number): boolean => -other / bend > 0.25 && -other / bend < 0.75;
    if (Math.abs(bend) > SPOILED * noise && isHalf(bends[i - 1]!) && isHalf(bends[i + 1]!)) {
      line[i] = (line[i - 1]! + line[i + 1]!) / 2;
    }
  }
}
