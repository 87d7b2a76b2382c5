/** Least x y z, then most. */
export type Box = Float64Array;

export function shellBoxes(positions: Float32Array, of: Uint32Array, count: number): Box[] {
  const boxes = Array.from({ length: count }, () =>
    Float64Array.of(Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity),
  );
  // Triangles of a shell mostly come in runs.
  for (let t = 0; t < of.length;) {
    const shell = of[t];
    const box = boxes[shell];
    let lowX = box[0];
    let lowY = box[1];
    let lowZ = box[2];
    let highX = box[3];
    let highY = box[4];
    let highZ = box[5];
    for (; t < of.length && of[t] === shell; t++) {
      for (let i = 9 * t; i < 9 * t + 9; i += 3) {
        const x = positions[i];
        const y = positions[i + 1];
        const z = positions[i + 2];
        if (x < lowX) lowX = x;
        if (y < lowY) lowY = y;
        if (z < lowZ) lowZ = z;
        if (x > highX) highX = x;
        if (y > highY) highY = y;
        if (z > highZ) highZ = z;
      }
    }
    box[0] = lowX;
    box[1] = lowY;
    box[2] = lowZ;
    box[3] = highX;
    box[4] = highY;
    box[5] = highZ;
  }
  return boxes;
}

/**
 * A function that lists the others whose box reaches into a shell's, ascending. Boxes are sorted along the axis over which they
 * spread most, so that only those beside one another there are compared.
 */
export function overlapping(boxes: readonly Box[], slack: number): (shell: number) => number[] {
  const spread = [0, 1, 2].map((k) => {
    const lows = boxes.map((box) => box[k]);
    return lows.reduce((a, b) => Math.max(a, b)) - lows.reduce((a, b) => Math.min(a, b));
  });
  const axis = spread.indexOf(Math.max(...spread));
  const order = boxes.map((_, shell) => shell).sort((a, b) => boxes[a][axis] - boxes[b][axis]);
  const placeOf = new Uint32Array(boxes.length);
  /** Per place: how far the boxes up to there reach. */
  const reach = new Float64Array(boxes.length);
  order.forEach((shell, place) => {
    placeOf[shell] = place;
    reach[place] = Math.max(place > 0 ? reach[place - 1] : -Infinity, boxes[shell][axis + 3]);
  });
  return (shell) => {
    const own = boxes[shell];
    const found: number[] = [];
    const look = (other: number): void => {
      if (overlap(boxes[other], own, slack)) found.push(other);
    };
    for (let i = placeOf[shell] - 1; i >= 0 && reach[i] + slack >= own[axis]; i--) look(order[i]);
    for (let i = placeOf[shell] + 1; i < order.length && boxes[order[i]][axis] <= own[axis + 3] + slack; i++)
      look(order[i]);
    return found.sort((a, b) => a - b);
  };
}

export function holds(outer: Box, inner: Box): boolean {
  return [0, 1, 2].every((k) => outer[k] <= inner[k] && outer[k + 3] >= inner[k + 3]);
}

export function overlap(a: Box, b: Box, slack: number): boolean {
  return [0, 1, 2].every((k) => a[k] <= b[k + 3] + slack && b[k] <= a[k + 3] + slack);
}

export function intersection(a: Box, b: Box, slack: number): Box {
  const box = new Float64Array(6);
  for (let k = 0; k < 3; k++) {
    box[k] = Math.max(a[k], b[k]) - slack;
    box[k + 3] = Math.min(a[k + 3], b[k + 3]) + slack;
  }
  return box;
}
