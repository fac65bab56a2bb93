/**
 * Child of the torn folder tests: opens the folder given as argument and says `whole <entries>` where everything in it verifies, `broken` where it was
 * opened and does not, or `refused <code> <words>`.
 */
import { openStore } from '#db/engine/open-store.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { verifyChain } from '#db/ledger/verify.ts';

const [path = ''] = process.argv.slice(2);
try {
  const store = await openStore({ kind: 'folder', path });
  const aircraft = await store.db.selectFrom('aircraft').select('id').execute();
  const answers = await Promise.all(aircraft.map(({ id }) => verifyChain(store.db, id)));
  const counts = answers.map((answer) => (answer.ok ? answer.entryCount : Number.NaN));
  const sum = counts.reduce((all, count) => all + count, 0);
  process.stdout.write(Number.isNaN(sum) ? 'broken\n' : `whole ${sum}\n`);
  await store.close();
} catch (error) {
  if (!(error instanceof StoreRefusal)) throw error;
  process.stdout.write(`refused ${error.code} ${error.message}\n`);
}
process.exit(0);
