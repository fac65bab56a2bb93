/** What a lay-up schedule comes to, as it crosses the wire. SI values under names that end in their unit. */
import { z } from 'zod';
import { Material } from '#shared/layup/material.ts';
import { LayUp, LINE_KINDS, On } from '#shared/layup/schedule.ts';
import { PartId } from '#shared/ledger/entry.ts';

const withStd = { massKg: z.number(), stdKg: z.number() };
const mass = z.object(withStd);

export const ComputedLayUpReport = z.object({
  ...withStd,
  lines: z
    .array(
      z.object({
        ...withStd,
        /** Where it stands in the schedule, both counted from 0. */
        region: z.int(),
        line: z.int(),
        is: z.enum(LINE_KINDS),
        material: z.string(),
        on: On,
        share: z.number(),
        byKindKg: z.object({
          fibre: z.number(),
          resin: z.number(),
          core: z.number(),
          coat: z.number(),
          other: z.number(),
        }),
        thicknessM: z.number().optional(),
        notes: z.array(z.enum(['corners left out', 'covers more than its region'])).readonly(),
      }),
    )
    .readonly(),
  regions: z
    .array(z.object({ ...withStd, name: z.string(), areaM2: z.number(), arealKgM2: z.number(), laminateM: z.number() }))
    .readonly(),
  byKind: z.object({ fibre: mass, resin: mass, core: mass, coat: mass, other: mass }),
  byOn: z.object({ moulded: mass, later: mass, finish: mass }),
  wf: z.number().optional(),
  vf: z.number().optional(),
  sources: z.array(z.object({ source: z.string(), stdKg: z.number() })).readonly(),
});
export type ComputedLayUpReport = z.infer<typeof ComputedLayUpReport>;

/** The schedule of the estimate in force; `moved` are materials that the list says otherwise by now, or has no more. */
export const LayUpReport = z.object({
  schedule: LayUp,
  computed: ComputedLayUpReport,
  moved: z.array(z.object({ was: Material, is: Material.optional() })),
});
export type LayUpReport = z.infer<typeof LayUpReport>;

const figure = z.object({ value: z.number(), std: z.number() });

/** What the pot says of the resin in the part, beside what the scale says. */
export const InfusionReport = z.object({ byPotKg: figure, byScaleKg: figure, isAgreed: z.boolean() });
export type InfusionReport = z.infer<typeof InfusionReport>;

/**
 * A weighing read backwards (rule E6), of one piece. `impossible` is lighter than its dry fibre and core, and has no fractions. `isTold`: it lies
 * outside the band by more than two standard uncertainties.
 */
export const LaminateReport = z.object({
  verdict: z.enum(['resin-rich', 'in band', 'dry', 'impossible']),
  isTold: z.boolean(),
  fibreKg: z.number(),
  coreKg: z.number(),
  offKg: z.object({ flash: z.number(), resinInCore: z.number(), coat: z.number(), other: z.number() }),
  resinKg: figure,
  wf: figure.optional(),
  vf: figure.optional(),
  arealKgM2: figure,
  planned: z.object({ resinKg: z.number(), wf: z.number(), arealKgM2: z.number() }),
  band: z.object({ lowWf: z.number(), highWf: z.number() }),
  infusion: InfusionReport.optional(),
});
export type LaminateReport = z.infer<typeof LaminateReport>;

/** Weighings of one kind against the schedules of their day; the fractions are of the moulded mass. A lot weighed together counts once. */
const AccuracyRow = z.object({
  name: z.string(),
  count: z.int(),
  meanFraction: z.number(),
  sdFraction: z.number().optional(),
  /** The fibre mass fraction that these have in fact, and what their schedules say. */
  wf: figure,
  plannedWf: z.number(),
});
export type AccuracyRow = z.infer<typeof AccuracyRow>;

/** A part that is not weighed, estimated with what its like have shown. `words` is the entry that would record it. */
const LearnedOffer = z.object({
  partId: PartId,
  number: z.string(),
  name: z.string(),
  wf: figure,
  plannedWf: z.number(),
  /** Installed, one piece: as it would be, and as it is estimated. */
  massKg: z.number(),
  wasKg: z.number(),
  /** What it changes of the predicted empty weight, allowances and all pieces in it. */
  changeKg: z.number(),
  words: z.record(z.string(), z.unknown()),
});
export type LearnedOffer = z.infer<typeof LearnedOffer>;

/** Rule E7. `leftOut` counts the weighings that cannot be, and teach nothing. */
export const AccuracyReport = z.object({
  processes: z.array(AccuracyRow),
  fabrics: z.array(AccuracyRow),
  /** By process and fabric together: what an offer is made from. */
  pairs: z.array(AccuracyRow),
  leftOut: z.int(),
  offers: z.array(LearnedOffer),
  predictedKg: z.number(),
  predictedWithOffersKg: z.number(),
});
export type AccuracyReport = z.infer<typeof AccuracyReport>;
