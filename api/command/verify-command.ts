/** `tarebook verify`: walks the chain of an aircraft's entries (rule L5), and holds it against a checkpoint (rule L9). */
import { type Held, holdAgainst } from '#db/checkpoint/checkpoint.ts';
import { inGroups } from '#db/checkpoint/signature.ts';
import type { Store } from '#db/engine/open-store.ts';
import type { Aircraft } from '#db/ledger/aircraft.ts';
import { findAircraft } from '#db/ledger/list-aircraft.ts';
import { FAULT_REMEDY, verifyChain } from '#db/ledger/verify.ts';
import { type Beside, verifyBeside } from '#db/ledger/verify-beside.ts';
import { counted, say } from '#shared/words/say.ts';
import { type AgainstOptions, type GivenCheckpoint, readCheckpoint } from './read-checkpoint.ts';
import { Refused } from './refused.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { aircraftNamed, withStore } from './with-store.ts';

type Options = AgainstOptions & { readonly aircraft?: string; readonly pageOnly: boolean; readonly json: boolean };

export async function verifyCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  if (options.against === undefined && (options.key !== undefined || options.pageOnly))
    throw new Refused([{ pointer: '--against', refusal: { code: 'missing' } }]);
  const given =
    options.against === undefined ? undefined : await readCheckpoint(options.against, options, surroundings);
  if (given !== undefined && options.pageOnly) return tellPage(given, options, surroundings);
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const aircraft = await aircraftOf(store, options.aircraft, given);
    const chain = await verifyChain(store.db, aircraft.id);
    const held = given && (await holdAgainst(store.db, given.checkpoint, chain));
    const beside = await verifyBeside(store.db, aircraft.id);
    const first = !chain.ok ? chain : held?.ok === false ? held : undefined;
    const isWhole = first === undefined && beside.faults.length === 0;
    if (options.json) {
      const remedy = isWhole ? {} : { remedy: FAULT_REMEDY };
      const checkpoint = given && held && { checkpoint: { ...factsOf(given), holds: held.ok } };
      const answer = first ?? { ...chain, ok: isWhole, ...(isWhole ? {} : { seq: 0, words: beside.faults.join(' ') }) };
      const told = { aircraft: aircraft.name, ...answer, beside, ...checkpoint, ...remedy };
      surroundings.out.write(`${JSON.stringify(told, null, 2)}\n`);
    } else {
      const lines = [
        chain.ok
          ? say`${aircraft.name}: ${counted(chain.entryCount, 'entry', 'entries')}, the chain is whole. Last hash ${chain.headHash}`
          : say`${aircraft.name}: the chain does not fit at entry ${chain.seq}. ${chain.words}`,
        ...(given === undefined || held === undefined ? [] : heldLines(aircraft, given, held)),
        ...besideLines(aircraft, beside),
        ...(isWhole ? [] : [FAULT_REMEDY]),
      ];
      surroundings.out.write(`${lines.join('\n')}\n`);
    }
    return isWhole ? EXIT.done : EXIT.badInput;
  });
}

/** The one named; with a checkpoint and no name, the one that the checkpoint is of. */
async function aircraftOf(
  store: Store,
  name: string | undefined,
  given: GivenCheckpoint | undefined,
): Promise<Aircraft> {
  if (given === undefined) return aircraftNamed(store, name);
  const { aircraftId: id, statement } = given.checkpoint;
  const aircraft = name === undefined ? await findAircraft(store.db, id) : await aircraftNamed(store, name);
  if (aircraft === undefined)
    throw new Refused([{ refusal: { code: 'checkpoint-aircraft-missing', name: statement.aircraft, id } }]);
  if (aircraft.id === id) return aircraft;
  throw new Refused([
    { refusal: { code: 'checkpoint-other-aircraft', says: statement.aircraft, asked: aircraft.name } },
  ]);
}

function tellPage(given: GivenCheckpoint, options: Options, surroundings: Surroundings): Exit {
  const { statement } = given.checkpoint;
  surroundings.out.write(
    options.json
      ? `${JSON.stringify({ checkpoint: factsOf(given) }, null, 2)}\n`
      : `${say`${statement.aircraft}: the page is as it was signed: entry ${statement.entry}, recorded ${statement.recorded}, hash ${statement.hash}; ${statement['empty weight']}, CG ${statement['empty CG']}; made ${statement.made} by ${statement.by}.`}\n${keyText(given)}\n${say`No ledger was held against it.`}\n`,
  );
  return EXIT.done;
}

function heldLines(aircraft: Aircraft, given: GivenCheckpoint, held: Held): string[] {
  const { statement } = given.checkpoint;
  const of = say`checkpoint of entry ${statement.entry}, made ${statement.made} by ${statement.by}`;
  if (held.ok === false)
    return [say`${aircraft.name}: the ledger is not that of the ${of}. ${held.words}`, keyText(given)];
  if (held.ok === 'unknown')
    return [say`The ${of}, cannot be held against it: the chain does not fit before that.`, keyText(given)];
  const since =
    held.entriesSince === 0 ? say`No entry came` : say`${counted(held.entriesSince, 'entry', 'entries')} came`;
  return [say`Up to there it is the ledger of the ${of}. ${since} after it.`, keyText(given)];
}

function keyText({ checkpoint, knownBy }: GivenCheckpoint): string {
  const key = inGroups(checkpoint.fingerprint);
  if (knownBy === 'option') return say`The page is signed with the key ${key}, as was asked for.`;
  if (knownBy === 'own key') return say`The page is signed with the key ${key}, which is the one kept here.`;
  return say`The page is signed with the key ${key}. Nothing here says whose that is: compare it with the fingerprint on paper, or give that with --key.`;
}

function factsOf({ checkpoint, knownBy }: GivenCheckpoint) {
  const { statement, fingerprint } = checkpoint;
  return { ...statement, entry: Number(statement.entry), fingerprint, isKeyKnown: knownBy !== undefined };
}

function besideLines(aircraft: Aircraft, { briefs, photos, faults }: Beside): string[] {
  const fit =
    briefs + photos === 0
      ? []
      : [
          say`Beside it ${counted(briefs, 'issued brief', 'issued briefs')} and ${counted(photos, 'photo', 'photos')} were read.`,
        ];
  return [...fit, ...faults.map((fault) => `${aircraft.name}: ${fault}`)];
}
