/**
 * The JSON that the command prints, as a program outside would read it: a field that is renamed, dropped or of another type turns
 * the tests red that read it; a field more breaks nobody. Not made from the types of the product.
 */
import { z } from 'zod';

const Cg = z.object({
  xM: z.number().optional(),
  yM: z.number().optional(),
  zM: z.number().optional(),
  percentMac: z.number().optional(),
});

const Targets = z.object({
  revision: z.int(),
  emptyMassKg: z.number(),
  reserveKg: z.number(),
  marginKg: z.number(),
  marginShareOfTarget: z.number(),
  cgForwardM: z.number().optional(),
  cgAftM: z.number().optional(),
  cgStanding: z.enum(['in range', 'forward of range', 'aft of range']).optional(),
});

export const Headline = z.object({
  seq: z.int(),
  partCount: z.int(),
  pieceCount: z.int(),
  basicKg: z.number(),
  allowanceKg: z.number(),
  predictedKg: z.number(),
  predictedStdKg: z.number(),
  weighedKg: z.number(),
  weighedShare: z.number().optional(),
  installedKg: z.number(),
  inStockKg: z.number(),
  withoutArmKg: z.number(),
  cg: Cg,
  cgBasic: Cg,
  targets: Targets.optional(),
  withoutEstimate: z.object({ count: z.int(), first: z.array(z.string()) }),
  withoutArm: z.object({ count: z.int(), first: z.array(z.string()) }),
  driftingCount: z.int(),
  watchCount: z.int(),
});

const Breakdown = z.object({
  name: z.string(),
  partCount: z.int(),
  basicKg: z.number(),
  predictedKg: z.number(),
  weighedKg: z.number(),
  weighedShare: z.number().optional(),
  cgXM: z.number().optional(),
  targetKg: z.number().optional(),
  marginKg: z.number().optional(),
});

const Part = z.object({
  number: z.string(),
  name: z.string(),
  group: z.string(),
  assembly: z.string().optional(),
  process: z.string(),
  quantity: z.int(),
  weighed: z.array(z.int()),
  estimateKg: z.number().optional(),
  evidence: z.string().optional(),
  growth: z.number().optional(),
  basicKg: z.number(),
  predictedKg: z.number(),
  xM: z.number().optional(),
  yM: z.number().optional(),
  zM: z.number().optional(),
  flag: z.string().optional(),
});

const Drift = z.object({
  number: z.string(),
  name: z.string(),
  group: z.string(),
  process: z.string(),
  pieces: z.array(z.int()),
  weighingSeq: z.int(),
  weighedOn: z.string(),
  condition: z.string(),
  flag: z.string(),
  isTold: z.boolean(),
  expectedKg: z.number(),
  netKg: z.number(),
  netStdKg: z.number(),
  differenceKg: z.number(),
  differenceFraction: z.number().optional(),
  limitKg: z.number(),
  marginEffectKg: z.number(),
  cgEffectM: z.number().optional(),
  cause: z.string().optional(),
});

const Effect = z.object({
  cause: z.string(),
  isCorrection: z.boolean(),
  massKg: z.number(),
  momentXKgM: z.number(),
  momentYKgM: z.number(),
  momentZKgM: z.number(),
  marginKg: z.number(),
});

const Findings = z.object({
  parts: z.array(Drift),
  groups: z.array(z.object({ group: z.string(), predictedKg: z.number(), targetKg: z.number(), marginKg: z.number() })),
  cg: z.object({ level: z.enum(['watch', 'drifting']), xM: z.number(), xStdM: z.number().optional() }).optional(),
  assemblies: z.array(
    z.object({
      number: z.string(),
      weighingSeq: z.int(),
      projectedKg: z.number(),
      partsKg: z.number(),
      residualKg: z.number(),
      residualMomentXKgM: z.number(),
      flag: z.string(),
      disposition: z.string().optional(),
      decidedBy: z.string().optional(),
    }),
  ),
  manySmall: z.array(
    z.object({
      by: z.string(),
      name: z.string(),
      partCount: z.int(),
      sumKg: z.number(),
      sdKg: z.number(),
      cause: z.object({ cause: z.string(), on: z.string(), by: z.string() }).optional(),
    }),
  ),
});

const Split = z.object({
  name: z.string(),
  pieceCount: z.int(),
  sumKg: z.number(),
  meanFraction: z.number().optional(),
  sdFraction: z.number().optional(),
});

const Pair = z.object({
  process: z.string(),
  what: z.enum(['flash', 'later']),
  pairCount: z.int(),
  meanFraction: z.number(),
  estimatedFraction: z.number(),
  offers: z.array(z.object({ number: z.string(), estimatedKg: z.number(), offeredKg: z.number() })),
});

const Scale = z.object({
  scale: z.string(),
  gainStd: z.number(),
  weighingCount: z.int(),
  marked: z.array(z.object({ seq: z.int() })),
});

const BridgeEnd = z.object({ at: z.string(), predictedKg: z.number(), cgXM: z.number().optional() });
const Bridge = z.object({ axis: z.enum(['entry', 'day']), from: BridgeEnd, to: BridgeEnd, effects: z.array(Effect) });

const Entry = z.object({
  seq: z.int(),
  recordedAt: z.iso.datetime(),
  entry: z.looseObject({ id: z.uuid(), kind: z.string(), happenedOn: z.iso.date(), by: z.string() }),
  part: z.string().optional(),
  correctedBySeq: z.int().optional(),
  correctsSeq: z.int().optional(),
  effects: z.array(Effect),
  predictedKg: z.number(),
  cgXM: z.number().optional(),
  marginKg: z.number().optional(),
});

const Day = z.object({
  day: z.iso.date(),
  basicKg: z.number(),
  predictedKg: z.number(),
  cgXM: z.number().optional(),
  targetKg: z.number().optional(),
  marginKg: z.number().optional(),
  effects: z.array(Effect),
});

const ImportedFile = z.object({
  rowCount: z.int(),
  knownRows: z.int(),
  entryCount: z.int(),
  warnings: z.array(z.string()),
  doubts: z.array(z.strictObject({ line: z.int(), number: z.string(), slip: z.string(), words: z.string() })),
  allowances: z.array(
    z.strictObject({ growth: z.number(), evidence: z.string(), processes: z.array(z.string()), count: z.int() }),
  ),
});

/** What `import`, `show`, `targets` and `record` print. */
export const Report = z.object({
  imported: z
    .strictObject({ isNew: z.boolean(), recorded: z.int(), files: z.record(z.string(), ImportedFile) })
    .optional(),
  recorded: z
    .array(
      z.object({
        seq: z.int(),
        recordedAt: z.iso.datetime(),
        hash: z.string().regex(/^[0-9a-f]{64}$/),
        replayed: z.boolean(),
      }),
    )
    .optional(),
  aircraft: z.looseObject({ kind: z.literal('aircraft'), name: z.string(), massUnit: z.string() }).optional(),
  headline: Headline.optional(),
  groups: z.array(Breakdown).optional(),
  processes: z.array(Breakdown).optional(),
  assemblies: z.array(Breakdown).optional(),
  parts: z.array(Part).optional(),
  drift: Findings.optional(),
  split: z.array(Split).optional(),
  pairs: z.array(Pair).optional(),
  scales: z.array(Scale).optional(),
  bridge: Bridge.optional(),
  entries: z.array(Entry).optional(),
  growth: z.array(Day).optional(),
});
export type Report = z.infer<typeof Report>;

/** What any verb prints where it refuses. */
export const Problems = z.object({
  problems: z.array(
    z.object({
      file: z.string().optional(),
      line: z.int().optional(),
      column: z.int().optional(),
      heading: z.string().optional(),
      pointer: z.string().optional(),
      code: z.string(),
      words: z.string(),
      remedy: z.string(),
    }),
  ),
});
export type Problems = z.infer<typeof Problems>;

export const Verified = z.discriminatedUnion('ok', [
  z.looseObject({ aircraft: z.string(), ok: z.literal(true), entryCount: z.int(), headHash: z.string() }),
  z.looseObject({ aircraft: z.string(), ok: z.literal(false), seq: z.int(), words: z.string() }),
]);

export const AircraftList = z.object({
  aircraft: z.array(z.looseObject({ id: z.uuid(), name: z.string(), headSeq: z.int() })),
});
