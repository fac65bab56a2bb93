/** What is said about the app on this device, and about weighings that wait on it. */
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';

export const NEWER_APP = {
  said: say`There is a newer Tarebook on the server than on this page.`,
  take: say`Load it now`,
  kept: say`Weighings and what you typed on Weigh are kept.`,
} as const;

const weighings = (count: number) => (count === 1 ? '1 weighing' : say`${count} weighings`);

/** The line under the bar, on every screen. */
export const WAITING = {
  own: (count: number) => `${weighings(count)} on this device ${count === 1 ? 'waits' : 'wait'} to be sent.`,
  refused: (count: number) => `${weighings(count)} ${count === 1 ? 'was' : 'were'} not taken.`,
  ofOthers: (count: number, initials: string) =>
    `${weighings(count)} of ${initials} ${count === 1 ? 'waits' : 'wait'} until ${initials} signs in here.`,
  see: say`See them on Weigh`,
} as const;

/** Why the queue stands still. */
export const STOPPED = {
  unreachable: say`The server cannot be reached. They go up by themselves, in this order, once it is back.`,
  'signed out': say`The session has ended. They go up once you have signed in again.`,
  'another person': say`Somebody else has signed in on another page of this browser. They go up once you are signed in again.`,
} as const;

export const QUEUE = {
  title: say`On this device, not in the ledger yet`,
  waiting: say`Waits to be sent.`,
  failed: say`The server failed on it. It is sent again by itself.`,
  behind: say`Waits behind the weighing of the same part that was not taken.`,
  ofAnother: (initials: string) => `Waits until ${initials} signs in here: it goes in under their name.`,
  refused: say`Not taken.`,
  weighed: say`weighed`,
  putRight: say`Put it right`,
  sendAgain: say`Send it again as it is`,
  shopDay: say`Send it as weighed today`,
  drop: say`Drop it`,
  sendAll: say`Send now`,
  gone: say`The part is no longer in the list. Ask the engineer, then send it again, or drop it.`,
  onlyOwn: (initials: string) => `Only ${initials} can put it right.`,
} as const;

export const DROP = {
  title: (part: string) => `Drop this weighing of ${part}?`,
  words: say`It is on this device alone: dropped, nobody has it any more, and it will not be in the ledger.`,
  yes: say`Drop the weighing`,
  no: say`Keep it`,
} as const;

export const KEPT = {
  unreachable: say`The server cannot be reached. It is sent by itself once it is back, and stays here over a reload until then.`,
  'signed out': say`It is sent once you have signed in again.`,
  'another person': say`Somebody else has signed in on another page of this browser. It is sent once you are signed in again.`,
  otherwise: say`It is sent as soon as what stands before it is through.`,
} as const;

export const SIGN_OUT = {
  title: say`Sign out with weighings not sent?`,
  words: (count: number) =>
    `${weighings(count)} of yours ${count === 1 ? 'is' : 'are'} on this device and not in the ledger. They stay here, and go up when you sign in on this device again.`,
  yes: say`Sign out all the same`,
  no: say`Stay signed in`,
} as const;

/** Said on Weigh before somebody relies on it. */
export const NOTHING_KEPT = {
  full: say`This device has no room left: a weighing cannot be kept here when the network is gone. Make room on it, or weigh on another device.`,
  forbidden: say`This browser keeps nothing for this page: a weighing cannot be kept here when the network is gone. Leave the private window, or allow this site to keep data.`,
} as const;

/** Over a judgement made without the server. */
export const JUDGED_HERE = (seq: number, at: string) =>
  say`Judged on this device by the ledger as of entry ${seq} (${at}): what others have recorded since is not in it.`;

export const NOT_JUDGED = {
  title: say`Not judged`,
  words: say`The server cannot be reached, and this device has no copy of the ledger to judge the reading by. It can be saved all the same: look at the figure twice.`,
  again: say`Try again`,
} as const;

export const PARTS_AS_OF = (at: string) => say`The server cannot be reached: parts and scales are those of ${at}.`;

/** Over a reading that is put right. */
export const AGAIN = (day: string) => say`Weighed on ${dayWords(day)}, and not taken:`;
export const ALREADY_WAITING = (shown: string) => say`A weighing of it waits to be sent: ${shown}.`;
/** Under a part that was weighed here, among those that are offered. */
export const WAITS_HERE = (shown: string) => say`${shown}: waits to be sent`;
