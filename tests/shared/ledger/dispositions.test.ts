/** What becomes of a piece that was weighed (rules W11, W8, L2). */
import { describe, expect, it } from 'vitest';
import { assemblyDrifts } from '#shared/drift/larger-drift.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import {
  assemblyOf,
  Chain,
  dispositionOf,
  estimateOf,
  ON,
  partIdOf,
  partOf,
  removedOf,
  TODAY,
  uuidOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

/** Two pieces of 4 kg, limit 6 %: piece 1 comes out 0.3 kg light, piece 2 in line. */
function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { quantity: 2 }));
  chain.record(estimateOf(1, { growth: 0.1 }));
  chain.record(weighingOf(1, 3.7, { pieces: [1] }), { on: '2026-05-02' });
  chain.record(weighingOf(1, 4.05, { pieces: [2] }), { on: '2026-05-02' });
  return chain;
}

function objections(chain: Chain): string[] {
  const last = chain.entries.at(-1);
  if (last === undefined) throw new Error('an empty chain');
  return objectionsTo(last.entry, chain.fold(last.seq - 1), TODAY).map(
    ({ path, refusal }) => `${path.join('/')}: ${refusal.code}`,
  );
}

const kg = (massNg: bigint | undefined) => Number(massNg) / 1e12;
const stateOf = (chain: Chain) => chain.fold().books.byPart.get(partIdOf(1))?.state;
const AFTER = { on: '2026-05-03' };

describe('decisions', () => {
  it('[W11] a light piece is not accepted without a word of inspection', () => {
    const chain = begun();
    chain.record(dispositionOf(1, 'accepted', { pieces: [1, 2] }), AFTER);
    expect(objections(chain)).toEqual(['inspection: inspection-missing']);
    chain.record(dispositionOf(1, 'accepted', { pieces: [1, 2], inspection: 'tapped, no voids' }), AFTER);
    expect(objections(chain)).toEqual([]);
    for (const decision of ['to be reworked', 'scrapped'] as const) {
      chain.record(dispositionOf(1, decision), AFTER);
      expect(objections(chain)).toEqual([]);
      chain.entries.pop();
    }
    chain.record(dispositionOf(1, 'accepted', { pieces: [2] }), AFTER);
    expect(objections(chain)).toEqual([]);
  });

  it('[W11] a watched light piece needs a word as well, a heavy one and one without an estimate do not', () => {
    const chain = new Chain();
    for (const [number, netKg] of [
      [1, 3.83],
      [2, 4.5],
      [3, 1],
    ] as const) {
      chain.record(partOf(number));
      if (number < 3) chain.record(estimateOf(number));
      chain.record(weighingOf(number, netKg));
    }
    const told = [1, 2, 3].map((number) => {
      chain.record(dispositionOf(number, 'accepted'));
      return objections(chain);
    });
    // 3.83 is 0.17 light: over two thirds of the limit of 0.24.
    expect(told).toEqual([['inspection: inspection-missing'], [], []]);
  });

  it('[W11] a weighed assembly is decided on by its own piece, and a light one takes a word of inspection', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    for (const number of [2, 3]) {
      chain.record(partOf(number, { parentPartId: partIdOf(1) }));
      chain.record(estimateOf(number));
    }
    const decide = (changes = {}) => {
      chain.record(dispositionOf(1, 'accepted', changes), AFTER);
      return objections(chain);
    };
    expect(decide()).toEqual(['pieces: not-weighed']);
    chain.entries.pop();
    // 8 kg in its parts: 1 kg heavy, then 1 kg light.
    chain.record(assemblyOf(1, 9, [2, 3], { condition: 'finished' }));
    expect(assemblyDrifts(chain.fold())[0]).toMatchObject({ flag: 'drifting heavy', disposition: undefined });
    expect(decide()).toEqual([]);
    expect(assemblyDrifts(chain.fold())[0]).toMatchObject({ disposition: 'accepted', decidedBy: 'Ann' });
    chain.record(assemblyOf(1, 7, [2, 3], { condition: 'finished' }), { on: '2026-05-04' });
    // The later weighing opens the question again.
    expect(assemblyDrifts(chain.fold())[0]).toMatchObject({ flag: 'drifting light', disposition: undefined });
    chain.record(dispositionOf(1, 'accepted'), { on: '2026-05-05' });
    expect(objections(chain)).toEqual(['inspection: inspection-missing']);
    chain.entries.pop();
    chain.record(dispositionOf(1, 'accepted', { inspection: 'no bond is short' }), { on: '2026-05-05' });
    expect(objections(chain)).toEqual([]);
    expect(assemblyDrifts(chain.fold())[0]?.disposition).toBe('accepted');
  });

  it('[W11] a piece that had not been weighed on that day cannot be decided on', () => {
    const chain = begun();
    chain.record(partOf(2));
    const told = (number: number, pieces: number[], on: string) => {
      chain.record(dispositionOf(number, 'to be reworked', { pieces }), { on });
      return objections(chain);
    };
    expect(told(2, [1], '2026-05-03')).toEqual(['pieces: not-weighed']);
    expect(told(1, [1], '2026-05-01')).toEqual(['pieces: not-weighed']);
    expect(told(1, [3], '2026-05-03')).toEqual(['pieces: no-such-piece']);
    expect(told(1, [1, 2], '2026-05-02')).toEqual([]);
    chain.record(withdrawnOf(1, [1]), { on: '2026-05-04' });
    expect(told(1, [1, 2], '2026-05-05')).toEqual(['pieces: not-weighed']);
    expect(told(1, [1, 2], '2026-05-03')).toEqual([]);
    chain.record(removedOf(1), { on: '2026-05-06' });
    expect(told(1, [2], '2026-05-07')).toEqual(['partId: part-is-removed']);
  });

  it('[W11] an assembly that was weighed is decided on like a piece', () => {
    const chain = begun();
    chain.record(partOf(7));
    chain.record(partOf(8, { parentPartId: partIdOf(7) }));
    chain.record(dispositionOf(7, 'accepted'), { on: '2026-05-04' });
    expect(objections(chain)).toEqual(['pieces: not-weighed']);
    chain.record(assemblyOf(7, 5, [8]), { on: '2026-05-04' });
    chain.record(dispositionOf(7, 'scrapped'), { on: '2026-05-05' });
    expect(objections(chain)).toEqual([]);
    expect(chain.fold().books.byPart.get(partIdOf(7))?.state.assemblyByLife.at(-1)).toBeUndefined();
  });
});

describe('scrapped', () => {
  it('[W8] a piece that is scrapped stops counting, one accepted or to be reworked goes on', () => {
    for (const [decision, basicKg, allowanceKg] of [
      ['accepted', 7.75, 0],
      ['to be reworked', 7.75, 0],
      ['scrapped', 8.05, 0.4],
    ] as const) {
      const chain = begun();
      chain.record(dispositionOf(1, decision, { inspection: 'dry' }), AFTER);
      const state = stateOf(chain);
      expect([kg(state?.basic.massNg), kg(state?.allowance.massNg)]).toEqual([basicKg, allowanceKg]);
      expect(state?.dispositions.map(({ statement }) => statement.decision)).toEqual([decision]);
    }
  });

  it('[W8] its change of mass is a piece withdrawn, and a decision that keeps it changes nothing', () => {
    const chain = begun();
    const effects = () =>
      chain
        .fold()
        .rows.at(-1)
        ?.effects.map(({ cause, change }) => [cause, kg(change.massNg)]);
    chain.record(dispositionOf(1, 'to be reworked'), AFTER);
    expect(effects()).toEqual([]);
    chain.record(dispositionOf(1, 'scrapped'), AFTER);
    expect(effects()).toEqual([['piece withdrawn', 0.7]]);
  });

  it('[L2] a piece scrapped by mistake is there again once that is corrected', () => {
    const chain = begun();
    const scrapped = chain.record(dispositionOf(1, 'scrapped'), AFTER);
    chain.record(weighingOf(1, 3.9, { pieces: [1] }), { on: '2026-05-04' });
    const corrected = chain.correct(scrapped, dispositionOf(1, 'accepted', { inspection: 'tapped' }));
    expect(objections(chain)).toEqual([]);
    // The weighing of the day after is of the same article now, and the later one counts.
    expect(kg(stateOf(chain)?.basic.massNg)).toBe(7.95);
    chain.correct(corrected, dispositionOf(1, 'accepted'), { replacedOn: AFTER.on });
    expect(objections(chain)).toEqual(['replacement/statement/inspection: inspection-missing']);
    chain.entries.pop();
    chain.correct(corrected, undefined);
    expect(objections(chain)).toEqual([]);
  });

  it('[L2] the day of a decision can be corrected to a later one', () => {
    const chain = begun();
    const scrapped = chain.record(dispositionOf(1, 'scrapped'), AFTER);
    chain.correct(scrapped, dispositionOf(1, 'scrapped'), { replacedOn: '2026-05-05' });
    expect(objections(chain)).toEqual([]);
  });
});

describe('words', () => {
  const told = (words: Record<string, string>) => {
    const context = { ledger: begun().fold(), day: ON, by: 'Ann', newId: () => uuidOf(77, 7) };
    const entry = entryFromWords({ kind: 'disposition', part: 'P-1', ...words }, context);
    return entry.ok ? entry.value : entry.refusal.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
  };

  it('[W11] a decision names its pieces, what was decided, by whom and what was found', () => {
    expect(told({ piece: '1-2', decision: 'Accept', inspection: 'tapped, no voids' })).toMatchObject({
      kind: 'disposition',
      pieces: [1, 2],
      decision: 'accepted',
      inspection: 'tapped, no voids',
      by: 'Ann',
    });
    expect(['rework', 'To be reworked', 'SCRAP'].map((decision) => told({ piece: '1', decision }))).toMatchObject([
      { decision: 'to be reworked' },
      { decision: 'to be reworked' },
      { decision: 'scrapped' },
    ]);
  });

  it.each([
    [{ decision: 'accepted' }, ['piece: which-piece']],
    [{ piece: '3', decision: 'accepted' }, ['piece: no-such-piece']],
    [{ piece: 'both', decision: 'accepted' }, ['piece: not-piece-numbers']],
    [{ piece: '1' }, ['decision: missing']],
    [{ piece: '1', decision: 'kept' }, ['decision: not-a-choice']],
    [{ part: 'P-9', decision: 'accepted' }, ['part: unknown-part']],
    [{ piece: '1', decision: 'scrapped', reason: 'dry' }, ['reason: field-unknown']],
  ])('[W11] a decision with %j is refused: %s', (words, problems) => {
    expect(told(words)).toEqual(problems);
  });
});
