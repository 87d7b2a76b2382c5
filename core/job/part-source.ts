import { z } from 'zod';
import { cadFacePrintsSchema } from './job-cad-faces.ts';
import type { Part } from './job.ts';
import { shapeSchema } from './job-shape.ts';

const fileSchema = z.object({
  kind: z.literal('file'),
  /** The file's own name, as the user knows it. */
  fileName: z.string().min(1),
  /** Where its untouched bytes are in the container. */
  entry: z.string().regex(/^models\/[^/\\]+$/),
  byteLength: z.number().int().nonnegative(),
  /** That it was read into when the part was made, see read-otherwise.ts. */
  triangleCount: z.number().int().positive().optional(),
  /** Of a CAD file: its faces as they were read then, see read-again.ts. */
  cadFaces: cadFacePrintsSchema.optional(),
});
export type FileOfPart = z.infer<typeof fileSchema>;

/** What a part's surface comes from: a model file, a shape drawn here, or an area that was only typed in. */
export const partSourceSchema = z.discriminatedUnion('kind', [
  fileSchema,
  z.object({ kind: z.literal('shape'), shape: shapeSchema }),
  z.object({ kind: z.literal('typed'), areaM2: z.number().positive().max(1000) }),
]);
export type PartSource = z.infer<typeof partSourceSchema>;

/** Jobs of the first days had the file as `model`. */
export function withSource(raw: unknown): unknown {
  if (typeof raw !== 'object' || raw === null || !('model' in raw) || 'source' in raw) return raw;
  const { model, ...rest } = raw;
  return typeof model === 'object' && model !== null ? { ...rest, source: { ...model, kind: 'file' } } : raw;
}

/** The part's model file, or undefined for one that was drawn or typed. */
export function fileOf({ source }: Pick<Part, 'source'>): FileOfPart | undefined {
  return source.kind === 'file' ? source : undefined;
}

/** What a part comes from, for messages: its file's name where it has one. */
export function sourceName({ source }: Pick<Part, 'source'>): string {
  if (source.kind === 'file') return source.fileName;
  return source.kind === 'shape' ? 'drawn shape' : 'typed area';
}
