/** Child of the folder tests: opens the folder given as argument, as the user given behind it, and tells what it is refused with. */
import { openStore } from '#db/engine/open-store.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';

const [path = '', user] = process.argv.slice(2);
if (user !== undefined) process.setuid?.(Number(user));
try {
  await (await openStore({ kind: 'folder', path })).close();
  process.stdout.write('opened\n');
} catch (error) {
  process.stdout.write(error instanceof StoreRefusal ? `${error.code} ${error.message}\n` : `${error}\n`);
}
