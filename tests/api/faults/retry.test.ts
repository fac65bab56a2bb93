/** Requests that come twice, late and in another order than they were made lead to the same ledger (L3). */
import { expect, it } from 'vitest';
import { verifyChain } from '#db/ledger/verify.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { aircraftIn, newId, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { faultChance, faultRounds } from '#tests/support/fault-rounds.ts';

const rounds = faultRounds(4);

/** Each depends on what is made before it for its part; the parts do not depend on each other. */
const made = () =>
  ['W-1', 'W-2', 'W-3'].flatMap((number) => [
    { id: newId(), kind: 'part added', number, name: number, group: 'wing', process: 'prepreg' },
    { id: newId(), kind: 'estimate', part: number, estimate: '4 kg', x: '2 m', allowance: '10 %' },
    { id: newId(), kind: 'weighing', part: number, gross: '4.2 kg', condition: 'finished' },
  ]);

describeOnBothEngines('requests in disorder', (engine) => {
  const shop = shopOn(engine);

  it('[L3] come to the ledger of those in order, whichever are sent twice, late or before their time', {
    timeout: 60_000 + rounds * 5_000,
  }, async () => {
    const { cookie } = await shop().person('lead');
    const chance = faultChance();
    const headlines: unknown[] = [];
    for (let round = 0; round <= rounds; round += 1) {
      const told = `${chance.seed}, round ${round}`;
      const aircraftId = await aircraftIn(shop(), cookie);
      const waiting = new Map(made().map((body) => [body.id, body]));
      const all = [...waiting.values()];
      const seqs = new Map<string, Set<number>>();
      const send = async (body: (typeof all)[number]) => {
        const answer = await shop().call('POST', `/api/aircraft/${aircraftId}/entries`, { cookie, body });
        const said = (await answer.json()) as { entry?: { seq: number }; problems?: { code: string }[] };
        if (said.entry === undefined) expect({ told, status: answer.status }).toEqual({ told, status: 400 });
        else {
          waiting.delete(body.id);
          seqs.set(body.id, (seqs.get(body.id) ?? new Set()).add(said.entry.seq));
        }
      };
      // The first in order, the others as it falls.
      const inDisorder = (bodies: typeof all) =>
        round === 0
          ? bodies
          : bodies
              .map((body) => [chance.uniform(), body] as const)
              .sort(([a], [b]) => a - b)
              .map(([, body]) => body);
      while (waiting.size > 0) {
        const turn = inDisorder([...waiting.values(), ...all.filter(() => round > 0 && chance.uniform() < 0.3)]);
        if (round % 2 === 0) for (const body of turn) await send(body);
        else await Promise.all(turn.map(send));
      }
      expect(
        [...seqs.values()].flatMap((of) => [...of]).sort((a, b) => a - b),
        told,
      ).toEqual(all.map((_, at) => at + 2));
      const ledger = await loadLedger(engine.db(), aircraftId);
      expect(await verifyChain(engine.db(), aircraftId), told).toMatchObject({ ok: true, entryCount: all.length + 1 });
      const answer = await shop().call('GET', `/api/aircraft/${aircraftId}`, { cookie });
      const { headline } = (await answer.json()) as { headline: Record<string, unknown> };
      expect(headline, told).toEqual(JSON.parse(JSON.stringify(headlineReport(ledger))));
      headlines.push(headline);
    }
    for (const headline of headlines) expect(headline, chance.seed).toEqual(headlines[0]);
  });
});
