/** A weighing beside the weighings there are of the same pieces, before it is saved (rules W4, W9). */
import { describe, expect, it } from 'vitest';
import { PreviewReport } from '#shared/contract/reports.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { previewWeighing } from '#shared/weighing/preview.ts';
import {
  assemblyOf,
  Chain,
  estimateOf,
  ON,
  partIdOf,
  partOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';

const NEXT_DAY = '2026-05-02';

/** A fairing of 18 kg with 0.4 kg of flash and 0.9 kg that goes on later, 0.3 kg of it after fitting out. */
function fairing(quantity = 1): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { quantity, process: 'prepreg' }));
  chain.record(estimateOf(1, { massKg: 18, flashKg: 0.4, laterKg: 0.9, finishKg: 0.3 }));
  return chain;
}

function doubtsOf(chain: Chain, weighing: StatementOf<'weighing'>, on = ON) {
  const preview = previewWeighing(chain.fold(), weighing, on);
  expect(PreviewReport.parse(preview)).toEqual(preview);
  return preview?.doubts ?? [];
}

const slipsOf = (...given: Parameters<typeof doubtsOf>) => doubtsOf(...given).map(({ slip }) => slip);

describe('an earlier condition after a later one', () => {
  it('[W9] is told not to count, with what stands and the conditions in which it would', () => {
    const chain = fairing();
    const { seq } = chain.record(weighingOf(1, 18.4, { condition: 'fitted' }));
    const released = weighingOf(1, 17.5, { condition: 'as released' });
    expect(doubtsOf(chain, released, NEXT_DAY)).toEqual([
      {
        slip: 'does not count',
        words: `This will not count: a fitted weighing of 18.400 kg stands (entry ${seq}).`,
        weighAs: ['fitted', 'finished'],
        correctSeq: seq,
      },
    ]);
    const before = previewWeighing(chain.fold(), released, NEXT_DAY);
    expect(before?.predictedAfterKg).toBe(before?.predictedBeforeKg);
    expect(slipsOf(chain, weighingOf(1, 18.4, { condition: 'finished' }), NEXT_DAY)).toEqual([]);
  });

  it('[W9] the masses are told in the unit of the aircraft, and the entry is the one to look at now', () => {
    const chain = new Chain();
    chain.record({
      kind: 'aircraft',
      name: 'Dabchick',
      datum: 'firewall',
      massUnit: 'lb',
      lengthUnit: 'in',
      typed: {},
    });
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 18 }));
    const made = chain.record(weighingOf(1, 18, { condition: 'fitted' }));
    chain.correct(made, weighingOf(1, 18.5, { condition: 'fitted' }));
    expect(doubtsOf(chain, weighingOf(1, 18.5, { condition: 'trimmed' }), NEXT_DAY)[0]).toMatchObject({
      words: 'This will not count: a fitted weighing of 40.79 lb stands (entry 5).',
      correctSeq: 5,
    });
  });

  it('[W9] of a lot only the pieces are named for which it does not count', () => {
    const chain = fairing(3);
    chain.record(weighingOf(1, 36.2, { condition: 'trimmed', pieces: [1, 2] }));
    const lot = weighingOf(1, 52, { condition: 'as released', pieces: [2, 3] });
    expect(doubtsOf(chain, lot)[0]?.words).toBe(
      'This will not count for piece 2: a trimmed weighing of 18.100 kg each stands (entry 3).',
    );
    expect(slipsOf(chain, weighingOf(1, 17.5, { condition: 'as released', pieces: [3] }))).toEqual([]);
  });

  it('[W9] a day before the one that stands, or before the piece was withdrawn, does not count either', () => {
    const chain = fairing();
    chain.record(weighingOf(1, 18, { condition: 'fitted' }), { on: NEXT_DAY });
    expect(slipsOf(chain, weighingOf(1, 17.4, { condition: 'fitted' }), ON)).toEqual(['does not count']);
    chain.record(withdrawnOf(1, [1]), { on: '2026-05-03' });
    expect(doubtsOf(chain, weighingOf(1, 17.7, { condition: 'finished' }), NEXT_DAY).map(({ words }) => words)).toEqual(
      ['This will not count: piece 1 was withdrawn after that day.'],
    );
    // The piece that was made anew has not been weighed.
    expect(slipsOf(chain, weighingOf(1, 17.4, { condition: 'as released' }), '2026-05-04')).toEqual([]);
  });

  it('[W4] a correction of what did not count before is not asked about, one that makes it count no more is', () => {
    const chain = fairing();
    const released = chain.record(weighingOf(1, 17.5, { condition: 'as released' }));
    const fitted = chain.record(weighingOf(1, 18, { condition: 'fitted' }), { on: NEXT_DAY });
    const slips = (of: typeof released, netKg: number, condition: 'as released' | 'trimmed', on: string) => {
      const ledger = chain.fold();
      const root = ledger.roots.get(of.entry.id);
      return previewWeighing(ledger, weighingOf(1, netKg, { condition }), on, root)?.doubts.map(({ slip }) => slip);
    };
    expect(slips(released, 17.6, 'trimmed', ON)).toEqual([]);
    const trimmed = chain.record(weighingOf(1, 17.1, { condition: 'trimmed' }), { on: ON });
    expect(slips(trimmed, 17.2, 'trimmed', ON)).toEqual([]);
    expect(slips(fitted, 17.1, 'as released', NEXT_DAY)).toEqual(['does not count']);
  });

  it('[W9] an assembly asks as a part does', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(estimateOf(2, { massKg: 10 }));
    const { seq } = chain.record(assemblyOf(1, 12, [2], { condition: 'finished' }));
    const trimmed = assemblyOf(1, 11, [2], { condition: 'trimmed' });
    expect(previewWeighing(chain.fold(), trimmed, NEXT_DAY)?.doubts).toEqual([
      {
        slip: 'does not count',
        words: `This will not count: a finished weighing of 12.000 kg stands (entry ${seq}).`,
        weighAs: ['finished'],
        correctSeq: seq,
      },
    ]);
  });
});

describe('the same condition again', () => {
  it('[W4] a net further off than two uncertainties of both asks, and says whose place it takes', () => {
    const chain = fairing();
    const { seq } = chain.record(weighingOf(1, 17.5, { condition: 'as released' }));
    const again = (netKg: number) => doubtsOf(chain, weighingOf(1, netKg, { condition: 'as released' }), NEXT_DAY);
    // Two readings to a gram: 2 sqrt(2/12) g = 0.82 g.
    expect([again(17.5), again(17.5008)]).toEqual([[], []]);
    expect(again(17.501)).toHaveLength(1);
    expect(again(17.1)).toEqual([
      {
        slip: 'takes the place of another',
        words: `It takes the place of entry ${seq}: 17.500 kg, as released, on ${ON}. This is 0.400 kg less, which the scale does not explain. Is it the same piece?`,
        correctSeq: seq,
      },
    ]);
  });

  it('[W4] the correction of one that took the place before is not asked about, one that now does is', () => {
    const chain = fairing();
    chain.record(weighingOf(1, 17.9, { condition: 'trimmed' }));
    const second = chain.record(weighingOf(1, 17.2, { condition: 'trimmed' }), { on: NEXT_DAY });
    const fitted = chain.record(weighingOf(1, 17.3, { condition: 'fitted' }), { on: NEXT_DAY });
    const slips = (of: typeof second, netKg: number) => {
      const ledger = chain.fold();
      const corrected = weighingOf(1, netKg, { condition: 'trimmed' });
      return previewWeighing(ledger, corrected, NEXT_DAY, ledger.roots.get(of.entry.id))?.doubts.map((one) => one.slip);
    };
    expect(slips(fitted, 17.3)).toEqual(['takes the place of another']);
    chain.correct(fitted, undefined);
    expect(slips(second, 17.3)).toEqual([]);
  });

  it('[W4] a part of nearly the same number that is not weighed and that it would fit is named', () => {
    const chain = fairing();
    chain.record(partOf(11, { name: 'Fairing, right' }));
    chain.record(estimateOf(11, { massKg: 18, flashKg: 0.4, laterKg: 0.9 }));
    chain.record(weighingOf(1, 17.5, { condition: 'as released' }));
    const doubts = () => doubtsOf(chain, weighingOf(1, 17.6, { condition: 'as released' }), NEXT_DAY);
    expect(doubts()).toMatchObject([
      { slip: 'takes the place of another' },
      { slip: 'another part', words: 'It would fit P-11 Fairing, right: not weighed yet.', parts: ['P-11'] },
    ]);
    chain.record(weighingOf(11, 17.5, { condition: 'as released' }));
    expect(doubts()).toMatchObject([{ slip: 'takes the place of another' }]);
  });

  it('[W4] what was to be reworked in between may weigh something else', () => {
    const chain = fairing();
    chain.record(weighingOf(1, 17.9, { condition: 'trimmed' }));
    const decided = (pieces: number[]) =>
      chain.record({ kind: 'disposition', partId: partIdOf(1), pieces, decision: 'to be reworked' });
    const slips = () => slipsOf(chain, weighingOf(1, 17.3, { condition: 'trimmed' }), NEXT_DAY);
    expect(slips()).toEqual(['takes the place of another']);
    decided([1]);
    expect(slips()).toEqual([]);
  });
});

describe('the same net in a later condition', () => {
  it('[W4] asks on the same day where flash should have come off, and only there', () => {
    const chain = fairing();
    const { seq } = chain.record(weighingOf(1, 17.5, { condition: 'as released' }));
    const trimmed = weighingOf(1, 17.5, { condition: 'trimmed' });
    expect(doubtsOf(chain, trimmed)).toEqual([
      {
        slip: 'entered before',
        words: `Entry ${seq} of the same day has the very same net, as released. Once trimmed, the piece should be 0.400 kg lighter. Is it entered twice?`,
      },
    ]);
    expect(slipsOf(chain, trimmed, NEXT_DAY)).toEqual([]);
    expect(slipsOf(chain, weighingOf(1, 17.499, { condition: 'trimmed' }))).toEqual([]);
    chain.record(estimateOf(1, { massKg: 18, laterKg: 0.5 }));
    expect(slipsOf(chain, trimmed)).toEqual([]);
  });
});

describe('the allowance', () => {
  it('[W4] what is freed of it is told: all of it by the first weighing, nothing by a correction', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 10, growth: 0.2 }));
    expect(previewWeighing(chain.fold(), weighingOf(1, 11), ON)).toMatchObject({
      predictedBeforeKg: 12,
      predictedAfterKg: 11,
      allowanceFreedKg: 2,
    });
    const made = chain.record(weighingOf(1, 18.1));
    const ledger = chain.fold();
    const root = ledger.roots.get(made.entry.id);
    const corrected = previewWeighing(ledger, weighingOf(1, 10.5), ON, root);
    expect(corrected).toMatchObject({ predictedBeforeKg: 18.1, predictedAfterKg: 10.5, allowanceFreedKg: 0 });
  });
});
