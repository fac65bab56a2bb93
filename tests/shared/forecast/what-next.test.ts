/** Which part to weigh or to work out next (rule F5): what is reckoned beforehand is what happens. */
import { describe, expect, it } from 'vitest';
import { forecastReport } from '#shared/forecast/report.ts';
import { whatNext } from '#shared/forecast/what-next.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { assemblyOf, Chain, estimateOf, partOf, weighingOf } from '../ledger/make-entries.ts';

/** Three parts of one process and one of another: 10 kg to 3 %, 4 kg to 3 %, two of 3 kg to 20 %; 6 kg machined to 2 %. */
function build(): Chain {
  const chain = new Chain();
  const parts: readonly (readonly [Partial<StatementOf<'part added'>>, Partial<StatementOf<'estimate'>>])[] = [
    [{}, { massKg: 10, massStdKg: 0.3, laterKg: 2, xM: 1 }],
    [{}, { massKg: 4, massStdKg: 0.12, xM: 3 }],
    [{ quantity: 2 }, { massKg: 3, massStdKg: 0.6, xM: 5 }],
    [{ process: 'machined' }, { massKg: 6, massStdKg: 0.12, xM: 2 }],
  ];
  parts.forEach(([part, estimate], at) => {
    chain.record(partOf(at + 1, part));
    chain.record(estimateOf(at + 1, estimate));
  });
  return chain;
}

const rowOf = (chain: Chain, number: number) => whatNext(chain.fold()).find(({ part }) => part === `P-${number}`);
const variances = (chain: Chain) => {
  const { forecastStdKg, cg } = forecastReport(chain.fold());
  return { massKg2: forecastStdKg ** 2, cgM2: (cg.x?.stdM ?? 0) ** 2 };
};

describe('what to weigh next', () => {
  it('[F5] counts the own uncertainty of a part and what it tells of its process', () => {
    // 8 + 4 + 6 kg of one process and 6 of another at 8 % each, and the estimates by themselves.
    const before = (0.08 * 18) ** 2 + (0.08 * 6) ** 2 + 0.3 ** 2 + 0.12 ** 2 + 1.2 ** 2 + 0.12 ** 2;
    const after =
      (10 / Math.hypot(1 / 0.08, 1 / 0.03)) ** 2 +
      (0.08 * 6) ** 2 +
      (0.3 * 0.2) ** 2 +
      0.12 ** 2 +
      1.2 ** 2 +
      0.12 ** 2;
    expect(rowOf(build(), 1)?.massShare).toBeCloseTo(1 - after / before, 12);
    expect(rowOf(build(), 1)).toMatchObject({ act: 'weigh', openPieces: 1 });
  });

  it.each([
    [1, { netKg: 8, condition: 'trimmed', pieces: [1] }],
    [2, { netKg: 4, condition: 'finished', pieces: [1] }],
    [3, { netKg: 6, condition: 'finished', pieces: [1, 2] }],
    [4, { netKg: 6, condition: 'finished', pieces: [1] }],
  ] as const)('[F5] part %d, weighed as forecast, takes away what was said', (number, { netKg, condition, pieces }) => {
    const chain = build();
    const [before, said] = [variances(chain), rowOf(chain, number)];
    chain.record(weighingOf(number, netKg, { condition, pieces: [...pieces], grossResolutionKg: 0 }));
    const after = variances(chain);
    expect(said?.massShare).toBeCloseTo(1 - after.massKg2 / before.massKg2, 9);
    expect(said?.cgShare).toBeCloseTo(1 - after.cgM2 / before.cgM2, 9);
    expect(said?.massShare).toBeGreaterThan(0.01);
  });

  it('[F5] the part that takes most away comes first', () => {
    // Two rough pieces of 3 kg; then 10 kg that tell much of a process, 4 kg that tell as much, and 6 kg of a process by itself.
    expect(whatNext(build().fold()).map(({ part }) => part)).toEqual(['P-3', 'P-1', 'P-2', 'P-4']);
  });

  it('[F5] an estimate that is worked out to three per cent takes away what was said; one as good already has nothing to offer', () => {
    const chain = build();
    const [before, said] = [variances(chain), rowOf(chain, 3)];
    expect(rowOf(chain, 1)?.workedOut).toBeUndefined();
    chain.record(estimateOf(3, { massKg: 3, massStdKg: 0.09, xM: 5 }));
    const after = variances(chain);
    expect(said?.workedOut?.massShare).toBeCloseTo(1 - after.massKg2 / before.massKg2, 9);
    expect(said?.workedOut?.cgShare).toBeCloseTo(1 - after.cgM2 / before.cgM2, 9);
  });

  it('[F5] a second piece under an estimate tells nothing new of the process', () => {
    const chain = build();
    chain.record(weighingOf(3, 3, { pieces: [1], grossResolutionKg: 0 }));
    const [before, said] = [variances(chain), rowOf(chain, 3)];
    chain.record(weighingOf(3, 3, { pieces: [2], grossResolutionKg: 0 }));
    expect(said?.massShare).toBeCloseTo(1 - variances(chain).massKg2 / before.massKg2, 9);
    expect(said?.openPieces).toBe(1);
  });

  it('[F5] what is weighed with something still to come waits to be weighed finished', () => {
    const chain = build();
    chain.record(weighingOf(1, 8, { condition: 'trimmed', grossResolutionKg: 0 }));
    const [before, said] = [variances(chain), rowOf(chain, 1)];
    expect(said).toMatchObject({ act: 'weigh when finished', openPieces: 0 });
    chain.record(weighingOf(1, 10, { grossResolutionKg: 0 }));
    expect(said?.massShare).toBeCloseTo(1 - variances(chain).massKg2 / before.massKg2, 9);
    expect(rowOf(chain, 1)).toBeUndefined();
  });

  it('[F5] what is known has nothing to offer: weighed and finished, weighed in an assembly, or an empty ledger', () => {
    expect(whatNext(new Chain().fold())).toEqual([]);
    const chain = build();
    chain.record(partOf(9));
    chain.record(assemblyOf(9, 14, [1, 2], { grossResolutionKg: 0 }));
    chain.record(weighingOf(3, 6, { pieces: [1, 2], grossResolutionKg: 0 }));
    expect(whatNext(chain.fold()).map(({ part }) => part)).toEqual(['P-4']);
    chain.record(weighingOf(4, 6, { grossResolutionKg: 0 }));
    expect(whatNext(chain.fold())).toEqual([]);
  });
});
