import { isAbsolute } from 'node:path';
import { z } from 'zod';

const shape = z.object({ files: z.array(z.string().refine(isAbsolute)).max(1000) });

/** The files that a second start of the program hands to the first one; anything else is no files. */
export function secondStartFiles(data: unknown): readonly string[] {
  const parsed = shape.safeParse(data);
  return parsed.success ? parsed.data.files : [];
}
