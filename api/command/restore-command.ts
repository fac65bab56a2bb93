/** `tarebook restore`: a backup into an empty store, all of it or nothing (rules Z2, Z3). */
import { checkBackup, restoreBackup } from '#db/backup/restore-backup.ts';
import { say } from '#shared/words/say.ts';
import { aircraftInWords, contentsInWords } from './backup-command.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { type PlaceOptions, placeOf } from './with-store.ts';

type Options = PlaceOptions & { readonly from: string; readonly check: boolean; readonly json: boolean };

export async function restoreCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const { from, check } = options;
  const answer = check ? checkBackup(from) : await restoreBackup(placeOf(options, surroundings.env), from);
  const { manifest, otherwise } = answer;
  const { madeAt, version, schema, aircraft, tables } = manifest;
  const rows = Object.fromEntries(tables.map((table) => [table.name, table.rows]));
  const facts = { madeAt, version, schema, rows, aircraft, headlineOtherwise: otherwise };
  surroundings.out.write(
    options.json
      ? `${JSON.stringify({ restored: !check, ...facts }, null, 2)}\n`
      : `${say`${check ? say`Whole, and can be restored` : say`Restored`}: ${contentsInWords({ rows, aircraft })}, as of ${madeAt}. Every chain is whole, and every headline ${otherwise.length === 0 ? say`is the one it was` : say`was looked at`}.`}\n${aircraft.map(aircraftInWords).join('')}${otherwise.map(otherwiseInWords).join('')}`,
  );
  return EXIT.done;
}

function otherwiseInWords(name: string): string {
  return `${say`The headline of ${name} comes out otherwise than when it was backed up: another version of Tarebook wrote it, with other rules.`}\n`;
}
