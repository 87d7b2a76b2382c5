import { z } from 'zod';

/** One line of a bath's history in the shop's own book. SI; `at` is an ISO 8601 date-time. */
export const bathEntrySchema = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('made'),
    at: z.iso.datetime(),
    volumeM3: z.number().positive(),
    freeAcidKgPerM3: z.number().positive(),
    /** null where nobody knows: an older bath that was not titrated. */
    aluminiumKgPerM3: z.number().nonnegative().nullable(),
  }),
  z.object({
    kind: z.literal('titrated'),
    at: z.iso.datetime(),
    freeAcidKgPerM3: z.number().positive(),
    aluminiumKgPerM3: z.number().nonnegative().nullable(),
  }),
  z.object({
    kind: z.literal('run'),
    at: z.iso.datetime(),
    chargeC: z.number().nonnegative(),
    areaM2: z.number().nonnegative(),
    chargePerVolumeCPerM3: z.number().positive(),
  }),
  z.object({
    kind: z.literal('added'),
    at: z.iso.datetime(),
    /** Pure H₂SO₄ in what was added. */
    acidKg: z.number().nonnegative(),
    volumeAfterM3: z.number().positive(),
  }),
  z.object({
    kind: z.literal('drawn off'),
    at: z.iso.datetime(),
    volumeM3: z.number().positive(),
  }),
]);
export type BathEntry = z.infer<typeof bathEntrySchema>;
