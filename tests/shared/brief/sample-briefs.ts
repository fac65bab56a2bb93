/** Briefs for those who write them into files: one with something of everything, an empty one, and a crowded one. All invented. */
import type { Brief, BriefContent, BriefRemarks } from '#shared/contract/brief.ts';
import type { ProposalRevision } from '#shared/contract/proposal.ts';
import { proposalFromWords } from '#shared/forecast/proposal-words.ts';
import {
  aircraftOf,
  assemblyOf,
  Chain,
  dispositionOf,
  estimateOf,
  partIdOf,
  partOf,
  processCauseOf,
  targetsOf,
  uuidOf,
  weighingOf,
} from '../ledger/make-entries.ts';
import { briefOf } from './make-brief.ts';

export const ISSUED_HASH = 'c'.repeat(64);

export function draftOf(content: BriefContent, remarks: BriefRemarks = {}): Brief {
  return { briefId: uuidOf(7, 7), state: 'draft', revision: 1, madeAt: '2026-06-30T14:05:00.000Z', content, remarks };
}

export function issuedOf(content: BriefContent, remarks: BriefRemarks = {}): Brief {
  const issued = { number: 3, by: 'Zoë', at: '2026-07-01T09:30:00.000Z', hash: ISSUED_HASH };
  return { ...draftOf(content, remarks), state: 'issued', revision: 2, issued };
}

/** `=1+2` as a name, names in four scripts, drift of every kind, and a process that its charts call. */
export function fullContent(
  given: { drifting?: number; aircraft?: Parameters<typeof aircraftOf>[0] } = {},
): BriefContent {
  const { drifting = 6 } = given;
  const chain = new Chain();
  chain.record(aircraftOf({ datum: 'spinner', macM: 1.2, lemacM: 2, ...given.aircraft }));
  chain.record(
    targetsOf(8 * drifting + 30, {
      ...{ reserveKg: 2, cgForwardM: 1, cgAftM: 3 },
      groups: [{ group: 'wing', massKg: 4 * drifting }],
    }),
  );
  NAMES.forEach((name, at) => {
    chain.record(partOf(900 + at, { name, process: 'bought' }), { on: '2026-03-01' });
    chain.record(estimateOf(900 + at, { massKg: 3, xM: 2 + at / 4, massStdKg: 0.1, armStdM: 0.01 }), {
      on: '2026-03-01',
    });
  });
  for (let number = 1; number <= drifting; number += 1) {
    const month = 1 + (number % 4);
    chain.record(
      partOf(number, {
        name: NAMES[number % NAMES.length] ?? '',
        group: number % 2 === 0 ? 'wing' : 'tail',
        process: 'prepreg',
        quantity: 2,
      }),
      { on: `2026-0${month}-0${1 + (number % 9)}` },
    );
    chain.record(estimateOf(number, { massKg: 4, xM: 1 + (number % 5) / 2 }), { on: `2026-0${month}-10` });
  }
  for (let number = 1; number <= drifting; number += 1)
    chain.record(weighingOf(number, 4.7 + (number % 7) / 50, number % 3 === 0 ? { cause: 'resin-rich' } : {}), {
      on: `2026-05-${String(1 + (number % 28)).padStart(2, '0')}`,
      by: 'Bo',
    });
  chain.record(dispositionOf(1, 'accepted'), { by: 'Ann', on: '2026-06-01' });
  const called = chain.entries.length - 1;
  chain.record(processCauseOf('prepreg', called, { found: '@vacuum bag leaked' }), { on: '2026-06-02', by: 'Iñés' });
  chain.record(partOf(800, { name: 'Fin', process: 'bonding' }), { on: '2026-05-01' });
  chain.record(partOf(801, { name: 'Fin skin', process: 'bought', parentPartId: partIdOf(800) }), { on: '2026-05-01' });
  chain.record(estimateOf(801, { massKg: 2, xM: 5 }), { on: '2026-05-01' });
  chain.record(assemblyOf(800, 3.1, [801]), { on: '2026-06-10' });
  const revisions = [
    proposal(chain, 1, { title: '-Lighter cores', owner: 'Cy', saving: '1.5 kg' }),
    proposal(chain, 2, { title: 'Thinner paint', owner: 'Iñés', saving: '0.4 kg', due: '2027-01-01' }),
  ];
  return briefOf(chain, { from: 2 + 2 * NAMES.length, revisions });
}

export function emptyContent(): BriefContent {
  const chain = new Chain();
  chain.record(aircraftOf());
  return briefOf(chain);
}

/** Latin with marks, Greek, Cyrillic, and one that a spreadsheet would work out. */
export const NAMES = ['=1+2', 'Flügelschäftung 10 ± 2', 'Πτερύγιο', 'Крыло', 'Żebro łącznikowe', '+49 rib'] as const;

function proposal(chain: Chain, number: number, words: object): ProposalRevision {
  const stated = { title: 'Lighter', owner: 'Cy', likelihood: '50 %', due: '2026-06-01', ...words };
  const read = proposalFromWords(chain.fold(), stated);
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  const recordedAt = '2026-06-12T00:00:00.000Z';
  return { proposalId: uuidOf(number, 9), revision: 1, by: 'AB', recordedAt, content: read.value };
}
