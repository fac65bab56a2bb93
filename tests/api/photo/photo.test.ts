/** Photos of parts through the doors (rule X6): made anew without place and camera, within limits, and shown to whom they may be. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { bringAircraft } from '#db/archive/bring-aircraft.ts';
import { aircraftToCarry } from '#db/archive/carry-out.ts';
import { readArchive } from '#db/archive/read-archive.ts';
import { writeArchive } from '#db/archive/write-archive.ts';
import { openStore, type Store, type StorePlace } from '#db/engine/open-store.ts';
import { findAircraft } from '#db/ledger/list-aircraft.ts';
import { PhotoList } from '#shared/contract/photo.ts';
import { isPlainJpeg, jpegSize } from '#shared/photo/jpeg.ts';
import { MOST_PHOTO_BYTES, MOST_PHOTOS, MOST_SMALL_BYTES } from '#shared/photo/limits.ts';
import { sentPicture } from '#shared/photo/sent-size.ts';
import { aircraftIn, newId, partsIn, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines, makeDatabase, removePlace } from '#tests/support/engines.ts';
import { pngOf, withPlace } from './make-pictures.ts';
import { pixelsOf, webpOf } from './make-webp.ts';

const PNG = { 'Content-Type': 'image/png' };
const JPEG = { 'Content-Type': 'image/jpeg' };

describeOnBothEngines('photos', (engine) => {
  const shop = shopOn(engine);
  let other: Store;
  let place: StorePlace;
  beforeAll(async () => {
    place = { kind: 'postgres', url: await makeDatabase() };
    other = await openStore(place);
  });
  afterAll(async () => {
    await other.close();
    await removePlace(place);
  });

  async function begun() {
    const { cookie } = await shop().person('crew');
    const lead = await shop().person('lead');
    const id = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, id);
    const added = await record(shop(), lead.cookie, id, { kind: 'part added', number: 'P-9', group: 'wing' });
    const partId = String(added.entry.entry['partId']);
    const at = `/api/aircraft/${id}`;
    const send = (bytes: Uint8Array, headers: Record<string, string> = PNG, query: Record<string, string> = {}) =>
      shop().call('POST', `${at}/parts/${partId}/photos?${new URLSearchParams({ id: newId(), ...query })}`, {
        cookie,
        headers,
        body: bytes,
      });
    const sent = async (...given: Parameters<typeof send>) => {
      const answer = await send(...given);
      expect(answer.status).toBe(201);
      return PhotoList.parse(await answer.json()).photos;
    };
    const bytesOf = async (photoId: string, more = '') => {
      const answer = await shop().call('GET', `${at}/photos/${photoId}${more}`, { cookie });
      expect(answer.status).toBe(200);
      return { answer, bytes: new Uint8Array(await answer.arrayBuffer()) };
    };
    return { id, partId, at, cookie, lead, send, sent, bytesOf };
  }

  it('[X6] is made anew: within its size, a plain JPEG, with a small one beside it', async () => {
    const { sent, bytesOf } = await begun();
    const [photo] = await sent(pngOf(2_600, 1_300), PNG, { remark: 'the rib' });
    expect(photo).toMatchObject({ widthPx: 2_000, heightPx: 1_000, remark: 'the rib' });
    const { answer, bytes } = await bytesOf(photo?.id ?? '');
    expect(isPlainJpeg(bytes, { widthPx: 2_000, heightPx: 1_000 })).toBe(true);
    expect(bytes.length).toBeLessThanOrEqual(MOST_PHOTO_BYTES);
    expect(answer.headers.get('content-type')).toBe('image/jpeg');
    expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    expect(answer.headers.get('content-security-policy')).toBe("default-src 'none'; sandbox");
    const small = await bytesOf(photo?.id ?? '', '?size=small');
    expect(jpegSize(small.bytes)).toEqual({ widthPx: 320, heightPx: 160 });
    expect(small.bytes.length).toBeLessThanOrEqual(MOST_SMALL_BYTES);
  });

  it('[X6] place, camera, comment and every other word in it are gone, and it stands as it was held', async () => {
    const { sent, bytesOf } = await begun();
    const [plain] = await sent(pngOf(400, 200));
    const jpeg = (await bytesOf(plain?.id ?? '')).bytes;
    const placed = withPlace(jpeg, 6);
    expect(Buffer.from(placed).includes('INVENTED')).toBe(true);
    expect(isPlainJpeg(placed)).toBe(false);
    const photos = await sent(placed, JPEG);
    const turned = photos.find(({ id }) => id !== plain?.id);
    expect(turned).toMatchObject({ widthPx: 200, heightPx: 400 });
    for (const more of ['', '?size=small']) {
      const { bytes } = await bytesOf(turned?.id ?? '', more);
      expect(isPlainJpeg(bytes)).toBe(true);
      for (const word of ['Exif', 'INVENTED', 'xmpmeta', 'GPS', 'secret'])
        expect(Buffer.from(bytes).includes(word)).toBe(false);
      for (let at = 0; at + 1 < bytes.length; at += 1) expect(bytes[at] === 0xff && bytes[at + 1] === 0xe1).toBe(false);
    }
  });

  it('[X6] a WebP picture is made anew as well; what can be seen through is white', async () => {
    const { send, sent, bytesOf } = await begun();
    const halves = [
      [200, 20, 30, 255],
      [0, 0, 0, 0],
    ] as const;
    const webp = await webpOf(2_400, 800, halves);
    const WEBP = { 'Content-Type': 'image/webp' };
    const [photo] = await sent(webp, WEBP);
    expect(photo).toMatchObject({ widthPx: 2_000, heightPx: 667 });
    const { answer, bytes } = await bytesOf(photo?.id ?? '');
    expect(answer.headers.get('content-type')).toBe('image/jpeg');
    expect(isPlainJpeg(bytes, { widthPx: 2_000, heightPx: 667 })).toBe(true);
    const pixelAt = await pixelsOf(bytes);
    for (const [at, colour] of [
      [pixelAt(100, 300), halves[0]] as const,
      [pixelAt(1_900, 300), [255, 255, 255]] as const,
    ])
      for (const channel of [0, 1, 2]) expect(Math.abs((at[channel] ?? 0) - (colour[channel] ?? 0))).toBeLessThan(12);
    await problemOf(await send(webp.subarray(0, webp.length / 2), WEBP), 400, 'photo-unreadable');
  });

  it('[X6] what is no photo, is cut off, is too large or becomes too large, is refused in words', async () => {
    const { send } = await begun();
    const jpegOfPage = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.from('<script>alert(1)</script>')]);
    await problemOf(await send(jpegOfPage, JPEG), 400, 'photo-unreadable');
    await problemOf(await send(Buffer.from('<svg xmlns="x" onload="a()"/>'), PNG), 400, 'photo-unreadable');
    await problemOf(await send(pngOf(40, 40).subarray(0, 60)), 400, 'photo-unreadable');
    await problemOf(await send(new Uint8Array()), 400, 'photo-unreadable');
    const bomb = pngOf(10, 10, { widthPx: 30_000, heightPx: 30_000 });
    await problemOf(await send(bomb), 400, 'photo-too-many-pixels');
    await problemOf(await send(pngOf(4, 4), { 'Content-Type': 'image/svg+xml' }), 415, 'photo-type');
    const large = { ...PNG, 'Content-Length': String(13 * 1_048_576) };
    await problemOf(await send(pngOf(4, 4), large), 413, 'photo-too-large');
  });

  it('[X6] a page that is hidden behind a picture does not come through', async () => {
    const { sent, bytesOf } = await begun();
    const page = Buffer.from('<html><script>alert(1)</script></html>');
    const [photo] = await sent(Buffer.concat([pngOf(30, 30), page]));
    const { bytes } = await bytesOf(photo?.id ?? '');
    expect(Buffer.from(bytes).includes('<script>')).toBe(false);
    const behind = Buffer.concat([bytes, page]);
    expect([isPlainJpeg(bytes), isPlainJpeg(behind)]).toEqual([true, false]);
  });

  it('[X6] one that is removed is shown no more; who, when and why stay, and no crew removes one', async () => {
    const { at, sent, cookie, partId } = await begun();
    const [photo] = await sent(pngOf(20, 20));
    const remove = (by: string, body: object = { reason: 'blurred' }) =>
      shop().call('POST', `${at}/photos/${photo?.id}/removal`, { cookie: by, body });
    await problemOf(await remove(cookie), 403, 'not-allowed');
    const engineer = await shop().person('engineer');
    await problemOf(await remove(engineer.cookie, { reason: '' }), 400, 'input-refused');
    expect((await remove(engineer.cookie)).status).toBe(200);
    expect((await remove(engineer.cookie, { reason: 'again' })).status).toBe(200);
    await problemOf(await shop().call('GET', `${at}/photos/${photo?.id}`, { cookie }), 404, 'not-found');
    const list = PhotoList.parse(await (await shop().call('GET', `${at}/parts/${partId}/photos`, { cookie })).json());
    expect(list.photos).toMatchObject([{ removal: { by: engineer.initials, reason: 'blurred' } }]);
  });

  it('[X6] a photo of others, of another aircraft, or of a part that is not there, is not found', async () => {
    const mine = await begun();
    const [photo] = await mine.sent(pngOf(20, 20));
    const stranger = await shop().person('engineer', []);
    const theirs = await begun();
    const get = (path: string, cookie: string) => shop().call('GET', path, { cookie });
    await problemOf(await get(`${mine.at}/photos/${photo?.id}`, stranger.cookie), 404, 'not-found');
    await problemOf(await get(`${mine.at}/parts/${mine.partId}/photos`, stranger.cookie), 404, 'not-found');
    await problemOf(await get(`${theirs.at}/photos/${photo?.id}`, theirs.cookie), 404, 'not-found');
    await problemOf(await get(`${mine.at}/parts/${newId()}/photos`, mine.cookie), 404, 'not-found');
    await problemOf(await mine.send(pngOf(4, 4), PNG, { entry: newId() }), 404, 'not-found');
    const viewer = await shop().person('viewer');
    expect((await get(`${mine.at}/photos/${photo?.id}`, viewer.cookie)).status).toBe(200);
    const path = `${mine.at}/parts/${mine.partId}/photos?id=${newId()}`;
    const call = { cookie: viewer.cookie, headers: PNG, body: pngOf(4, 4) };
    await problemOf(await shop().call('POST', path, call), 403, 'not-allowed');
  });

  it('[X6] sent twice it is there once, and a part has at most so many', async () => {
    const { sent, send } = await begun();
    const id = newId();
    await sent(pngOf(8, 8), PNG, { id });
    expect(await sent(pngOf(8, 8), PNG, { id })).toHaveLength(1);
    const elsewhere = await begun();
    expect(await elsewhere.sent(pngOf(8, 8), PNG, { id })).toHaveLength(1);
    for (let count = 1; count < MOST_PHOTOS; count += 1) await sent(pngOf(2, 2));
    await problemOf(await send(pngOf(2, 2)), 409, 'photos-enough');
  }, 240_000);

  it('[X6] the id of a photo of another part is taken, and too many at once are asked to wait', async () => {
    const { at, cookie, lead, id, sent, send } = await begun();
    const taken = newId();
    await sent(pngOf(8, 8), PNG, { id: taken });
    const added = await record(shop(), lead.cookie, id, { kind: 'part added', number: 'P-10', group: 'wing' });
    const path = `${at}/parts/${String(added.entry.entry['partId'])}/photos?id=${taken}`;
    const call = { cookie, headers: PNG, body: pngOf(4, 4) };
    await problemOf(await shop().call('POST', path, call), 409, 'photo-id-taken');
    const answers = await Promise.all(Array.from({ length: 14 }, () => send(pngOf(900, 900))));
    const refused = answers.filter(({ status }) => status !== 201);
    expect(refused.length).toBeGreaterThan(0);
    for (const answer of refused) await problemOf(answer, 503, 'photos-busy');
  });

  it('[X6] photos go out and come in with their aircraft, byte by byte, removed ones with their mark', async () => {
    const { id, at, sent, lead } = await begun();
    await sent(pngOf(50, 40), PNG, { remark: '=1+1' });
    const [, second] = await sent(pngOf(60, 40));
    await shop().call('POST', `${at}/photos/${second?.id}/removal`, {
      cookie: lead.cookie,
      body: { reason: 'blurred' },
    });
    const aircraft = await findAircraft(engine.db(), id);
    if (aircraft === undefined) throw new Error('it is not there');
    const stamp = { exportedAt: '2026-06-30T12:00:00.000Z', exportedBy: 'Ann' };
    const files = writeArchive(await aircraftToCarry(engine.db(), aircraft, stamp));
    if (!files.ok) throw new Error('it is whole');
    expect([...files.value.keys()].filter((name) => name.endsWith('.jpg'))).toHaveLength(4);
    const today = '2099-01-01';
    const archive = readArchive(files.value, { today });
    if (!archive.ok) throw new Error(JSON.stringify(archive.problems));
    expect((await bringAircraft(other.db, { archive: archive.value, by: 'Bea' })).ok).toBe(true);
    for (const table of ['photo', 'photo_removal'] as const) {
      const rows = (store: Store) =>
        store.db.selectFrom(table).selectAll().where('aircraft_id', '=', id).orderBy('recorded_at').execute();
      expect(await rows(other)).toEqual(await rows(engine.store()));
    }
    const [name = ''] = [...files.value.keys()].filter((one) => one.endsWith('.jpg'));
    const swapped = new Map(files.value).set(name, withPlace(files.value.get(name) ?? new Uint8Array(), 1));
    const damaged = readArchive(swapped, { today });
    expect(damaged.ok ? [] : damaged.problems.map(({ file }) => file)).toEqual([name, 'photos.csv']);
  });

  it('[X6] what bytes are is read from the bytes', () => {
    expect(sentPicture(pngOf(3, 5))).toEqual({ kind: 'png', widthPx: 3, heightPx: 5 });
    const webp = Buffer.concat([
      Buffer.from('RIFF\x20\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0', 'latin1'),
      Buffer.from([99, 0, 0, 49, 0, 0]),
    ]);
    expect(sentPicture(webp)).toEqual({ kind: 'webp', widthPx: 100, heightPx: 50 });
    expect(sentPicture(Buffer.from('GIF89a'))).toBeUndefined();
  });
});
