/** What a build leaves beside its ledger: proposals, a photo, a brief that was issued, and an aircraft on its scales. Invented. */
import { randomUUID } from 'node:crypto';
import { pngOf } from '#tests/api/photo/make-pictures.ts';
import type { AircraftDoors } from './doors.ts';
import { LONGEST } from './long-names.ts';
import { DRAFT_WORDS, SIGNED } from './on-scales.ts';
import type { AircraftKind } from './shop.ts';

const TITLE = {
  demonstration: 'Lighter seat frames',
  large: 'Lighter seat frames',
  long: 'Sitzwannenverstärkungsrahmenleichtbauausführungsvorschlag mit Wabenkern statt Schaumkern, beidseitig',
};

/** Which parts are shown: one with much about it, and one with a lay-up. */
const SHOWN = {
  demonstration: { part: 'W-11', layUp: 'W-11' },
  large: { part: 'P-7', layUp: 'P-7' },
  long: { part: LONGEST, layUp: 'WF-2' },
};

export type Traces = { readonly brief: string; readonly part: string; readonly layUpPart: string };

/** Answers the ids of a brief that was issued, and of the parts to be shown. */
export async function leaveTraces(aircraft: AircraftDoors, kind: Exclude<AircraftKind, 'empty'>): Promise<Traces> {
  const owner = kind === 'long' ? 'Wolfgang-Amadé Überschärfenbürgermeister zu Größenöd' : 'RL';
  for (const [at, due] of ['2026-01-31', '2031-06-30'].entries())
    await aircraft.send('/proposals', { title: TITLE[kind], owner, saving: `${at + 1} kg`, likelihood: '60 %', due });
  const { parts } = await aircraft.get<{ parts: readonly { partId: string; number: string }[] }>('/parts');
  const idOf = (number: string) => parts.find((part) => part.number === number)?.partId ?? '';
  await addPhoto(aircraft, idOf(SHOWN[kind].part));
  // The demonstration is being weighed, the one with long names has been.
  if (kind === 'long') await aircraft.record(SIGNED);
  if (kind === 'demonstration') await aircraft.send('/aircraft-weighings/draft', { after: 0, words: DRAFT_WORDS });
  const { briefId } = await aircraft.send<{ briefId: string }>('/briefs', {});
  await aircraft.send(`/briefs/${briefId}/statements`, { after: 0, act: 'issue' });
  await aircraft.send('/briefs', {});
  return { brief: briefId, part: idOf(SHOWN[kind].part), layUpPart: idOf(SHOWN[kind].layUp) };
}

async function addPhoto({ doors, at }: AircraftDoors, partId: string): Promise<void> {
  const address = `${doors.address}/api${at}/parts/${partId}/photos?id=${randomUUID()}&remark=seen+from+below`;
  const headers = { 'content-type': 'image/png' };
  const answer = await doors.request.post(address, { headers, data: Buffer.from(pngOf(640, 480)) });
  if (!answer.ok()) throw new Error(`the photo: ${await answer.text()}`);
}
