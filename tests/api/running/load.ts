/**
 * Hands that weigh without pause, as tablets do: what gets no answer, or none of the server's own, is sent again with its id until it is
 * acknowledged. They note what was acknowledged and every answer that came in pieces.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import { newId } from '#tests/api/door-shop.ts';
import { sendJson } from '#tests/support/server-process.ts';

export type Load = {
  /** Ids of entries whose acknowledgement was read whole. */
  readonly acknowledged: Set<string>;
  /** Answers that broke off in the middle. */
  readonly torn: string[];
  /** Answers of the server's own that no tablet would wait out. */
  readonly refused: string[];
  /** How many times something had to be sent again. */
  again: number;
  /** No further entry is begun; waits until each that was is acknowledged, or until `untilMs` have gone. */
  end(withinMs: number): Promise<void>;
};

export function loadOn(
  entriesAt: string,
  { cookie, hands }: { readonly cookie: string; readonly hands: number },
): Load {
  let isEnding = false;
  let isOver = false;
  const load: Load = { acknowledged: new Set(), torn: [], refused: [], again: 0, end: async () => undefined };
  const work = Array.from({ length: hands }, async () => {
    while (!isEnding) {
      const id = newId();
      const body = { id, kind: 'note', text: `entry ${id}` };
      while (!(await isTaken(entriesAt, { cookie, body }, load))) {
        if (isOver) return;
        load.again += 1;
        await sleep(20);
      }
      load.acknowledged.add(id);
    }
  });
  load.end = async (withinMs) => {
    isEnding = true;
    const over = setTimeout(() => {
      isOver = true;
    }, withinMs);
    await Promise.all(work);
    clearTimeout(over);
  };
  return load;
}

const NO_ANSWER = new Set([502, 503, 504]);

async function isTaken(
  url: string,
  { cookie, body }: { readonly cookie: string; readonly body: unknown },
  load: Load,
): Promise<boolean> {
  try {
    const answer = await sendJson(url, { cookie, body });
    if (answer.status === 200 || answer.status === 201) return true;
    if (!NO_ANSWER.has(answer.status)) load.refused.push(`${answer.status}: ${JSON.stringify(answer.body)}`);
    return false;
  } catch (error) {
    // `fetch failed`: no answer at all. Anything else broke off in the middle.
    const words = String(error);
    if (!words.includes('fetch failed')) load.torn.push(words);
    return false;
  }
}
