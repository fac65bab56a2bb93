/** What the demonstration has beside its ledger (G1): proposals of different states, a brief that is issued and one that is not yet. */
import { beforeAll, expect, it } from 'vitest';
import { briefWith, listBriefs } from '#db/brief/briefs.ts';
import { composeBrief } from '#db/brief/compose-brief.ts';
import { createDemonstration, DEMONSTRATION_ID } from '#db/demo/create-demonstration.ts';
import { DEMONSTRATION_NAME } from '#db/demo/story.ts';
import { listRevisions } from '#db/proposal/proposals.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { proposalsReport } from '#shared/forecast/proposal-report.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { BY, entriesOn, ledgerOf, TODAY } from './story.ts';

describeOnBothEngines('what the demonstration has beside its ledger', (engine) => {
  beforeAll(async () => {
    await createDemonstration(engine.db(), { by: BY, today: TODAY });
  });

  it('[G1] proposals are worked out by the ledger: one done, two open that fit and are not overdue', async () => {
    const db = engine.db();
    const revisions = await listRevisions(db, DEMONSTRATION_ID);
    const ledger = await loadLedger(db, DEMONSTRATION_ID);
    const { proposals } = proposalsReport(ledger, revisions, TODAY);
    const told = proposals.map(({ state, unfit, isOverdue, revision }) => ({ state, unfit, isOverdue, revision }));
    expect(told).toEqual([
      { state: 'done', unfit: [], isOverdue: false, revision: 2 },
      { state: 'open', unfit: [], isOverdue: false, revision: 2 },
      { state: 'open', unfit: [], isOverdue: false, revision: 1 },
    ]);
    expect(revisions.map(({ content }) => [content.title.slice(0, 7), content.statedSavingKg])).toEqual([
      ['Stow th', undefined],
      ['Stow th', undefined],
      ['Lighter', 1.2],
      ['Lighter', 0.4],
      ['A fixed', undefined],
    ]);
    // What is not stated is worked out of the changes: a part of 0.85 kg, and one that is lighter by 1.9 kg, with what is allowed for each.
    const [paddle, mesh, propeller] = proposals.map(({ savingKg }) => savingKg);
    expect(mesh).toBe(0.4);
    expect(paddle).toBeGreaterThanOrEqual(0.85);
    expect(propeller).toBeGreaterThanOrEqual(1.9);
  });

  it('[G1] the issued brief tells the ledger as it stood at an earlier entry, and what it says fits its hash', async () => {
    const db = engine.db();
    const [draft, issued, ...others] = await listBriefs(db, DEMONSTRATION_ID);
    expect(others).toEqual([]);
    expect(issued).toMatchObject({ state: 'issued', issued: { number: 1 }, fromSeq: 0 });
    expect(draft).toMatchObject({ state: 'draft', fromSeq: issued?.toSeq, toSeq: entriesOn(TODAY).length });
    const kept = await briefWith(db, { aircraftId: DEMONSTRATION_ID, briefId: issued?.briefId ?? '' });
    expect(kept?.fitsItsHash).toBe(true);
    expect(Object.keys(kept?.brief.remarks ?? {})).toEqual(['all', 'drift']);
    const then = ledgerOf(entriesOn(TODAY).slice(0, issued?.toSeq));
    expect(kept?.brief.content.figures).toEqual(headlineReport(then));
    expect(kept?.brief.content.drift.processes.map(({ process }) => process)).toContain('resin-infused');
  });

  it('[G1] [B1] a brief of it composed again comes out as it was', async () => {
    const db = engine.db();
    const [draft] = await listBriefs(db, DEMONSTRATION_ID);
    const { toSeq: entry, fromSeq: since, briefId } = draft ?? { toSeq: 0, fromSeq: 0, briefId: '' };
    const aircraft = { id: DEMONSTRATION_ID, name: DEMONSTRATION_NAME };
    const again = await composeBrief(db, { aircraft, entry, since, by: 'QL', on: TODAY }, async (seq, work) =>
      work(await loadLedger(db, DEMONSTRATION_ID, seq)),
    );
    const kept = await briefWith(db, { aircraftId: DEMONSTRATION_ID, briefId });
    expect(again).toEqual({ ok: true, value: kept?.brief.content });
  });
});
