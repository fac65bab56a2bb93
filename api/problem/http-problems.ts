/**
 * Every way in which the server says no as a whole, with its status, its words and its remedy. The order is the order of precedence:
 * what is wrong with a request comes before who sent it, and that before what it says. What is wrong inside a body is a refusal of
 * `shared/problem`, told in the list `problems`.
 */
import { say } from '#shared/words/say.ts';

type HttpProblem = { readonly status: 400 | 401 | 403 | 404 | 409 | 413 | 415 | 429 | 500 | 503 } & {
  readonly title: string;
  readonly words: string;
  readonly remedy: string;
};

export const HTTP_PROBLEMS = {
  'server-fault': {
    status: 500,
    title: say`The server failed`,
    words: say`Something went wrong on the server. What it is stands in its log.`,
    remedy: say`Try again. If it happens again, give the number below to whoever runs the server.`,
  },
  'other-site': {
    status: 403,
    title: say`Sent from another site`,
    words: say`The request comes from a page that is not this server’s own.`,
    remedy: say`Open Tarebook at its own address and do it there.`,
  },
  'media-type': {
    status: 415,
    title: say`Not JSON`,
    words: say`What was sent does not say that it is JSON.`,
    remedy: say`Send it with the header Content-Type: application/json.`,
  },
  'too-large': {
    status: 413,
    title: say`Too large`,
    words: say`What was sent is larger than 1 MB.`,
    remedy: say`Send less at a time.`,
  },
  'list-too-large': {
    status: 413,
    title: say`List too large`,
    words: say`What was sent is larger than 20 MB, or takes longer than a minute to read.`,
    remedy: say`Split the list and bring one part after the other.`,
  },
  'archive-type': {
    status: 415,
    title: say`Not a ZIP file`,
    words: say`What was sent does not say that it is a ZIP file.`,
    remedy: say`Send the ZIP in which an aircraft was carried out, with the header Content-Type: application/zip.`,
  },
  'archive-too-large': {
    status: 413,
    title: say`Aircraft too large`,
    words: say`What was sent is larger than 256 MB, or takes longer than three minutes to read.`,
    remedy: say`Bring it in with the command: tarebook bring --from the folder.`,
  },
  'photo-type': {
    status: 415,
    title: say`No photo`,
    words: say`What was sent does not say that it is a photo.`,
    remedy: say`Send a JPEG, a PNG or a WebP with its own Content-Type.`,
  },
  'photo-too-large': {
    status: 413,
    title: say`Photo too large`,
    words: say`The photo is larger than 12 MB.`,
    remedy: say`Take it with fewer pixels, or save it smaller.`,
  },
  'not-signed-in': {
    status: 401,
    title: say`Not signed in`,
    words: say`Nobody is signed in here, or the session has ended.`,
    remedy: say`Sign in. What you were writing is kept where you wrote it.`,
  },
  'other-person': {
    status: 403,
    title: say`Somebody else is signed in`,
    words: say`What was sent is of another person than the one who is signed in here.`,
    remedy: say`Let the person who made it sign in: it goes in under their name.`,
  },
  'not-allowed': {
    status: 403,
    title: say`Not allowed`,
    words: say`Your role does not allow this.`,
    remedy: say`Ask a lead to do it, or to change your role.`,
  },
  'pin-session': {
    status: 403,
    title: say`Signed in with a PIN`,
    words: say`With a PIN one weighs and reads, and does nothing else.`,
    remedy: say`Sign in with your name and password for this, if your role allows it.`,
  },
  'not-found': {
    status: 404,
    title: say`Not here`,
    words: say`There is nothing under this address.`,
    remedy: say`Check the address, or ask a lead whether you may see that aircraft.`,
  },
  'not-json': {
    status: 400,
    title: say`Not readable`,
    words: say`What was sent is not well-formed JSON.`,
    remedy: say`Check brackets, commas and quotation marks.`,
  },
  'input-refused': {
    status: 400,
    title: say`Cannot be taken as it is`,
    words: say`What was sent cannot be taken as it is.`,
    remedy: say`See each problem.`,
  },
  throttled: {
    status: 429,
    title: say`Too many tries`,
    words: say`There were too many tries in a short time.`,
    remedy: say`Wait as many seconds as the header Retry-After says, then try again.`,
  },
  busy: {
    status: 503,
    title: say`Too many at once`,
    words: say`Too many people are signing in at this moment.`,
    remedy: say`Wait a few seconds and try again.`,
  },
  stopping: {
    status: 503,
    title: say`The server stops`,
    words: say`This server is being stopped.`,
    remedy: say`Ask again in a moment, or another server. What has been acknowledged is recorded.`,
  },
  'database-away': {
    status: 503,
    title: say`The database does not answer`,
    words: say`The server cannot reach its database. Whether what was sent has been recorded is not known.`,
    remedy: say`Send it again in a moment, unchanged: it is recorded once at most.`,
  },
  'reading-ledger': {
    status: 503,
    title: say`Reading the ledger`,
    words: say`Reading the ledger.`,
    remedy: say`Ask again in a second: a page does so by itself. It is read once after the server has started.`,
  },
  'disk-full': {
    status: 503,
    title: say`The disk is full`,
    words: say`The disk of the server is full, so that nothing more can be recorded. What was acknowledged is kept.`,
    remedy: say`Whoever runs the server makes room on its disk. Then send it again as it is: it is recorded once.`,
  },
  'photos-busy': {
    status: 503,
    title: say`Too many at once`,
    words: say`Too many photos are being added at this moment.`,
    remedy: say`Wait a few seconds and send it again.`,
  },
  'photo-unreadable': {
    status: 400,
    title: say`Photo not readable`,
    words: say`This is no JPEG, PNG or WebP, whatever its name, or it is damaged.`,
    remedy: say`Take the photo again, or save it as JPEG.`,
  },
  'photo-too-many-pixels': {
    status: 400,
    title: say`Too many pixels`,
    words: say`The photo has more than 50 million pixels.`,
    remedy: say`Take it with fewer pixels, or save it smaller.`,
  },
  'photos-enough': {
    status: 409,
    title: say`Enough photos`,
    words: say`This part has 24 photos, which is the most.`,
    remedy: say`Remove one that is not needed any more.`,
  },
  'photo-id-taken': {
    status: 409,
    title: say`Another photo`,
    words: say`The id of the photo belongs to one of another part.`,
    remedy: say`Send it with an id of its own.`,
  },
  'first-run-done': {
    status: 409,
    title: say`Already set up`,
    words: say`The first account has been made already.`,
    remedy: say`Sign in, or ask a lead for an account.`,
  },
  'code-wrong': {
    status: 403,
    title: say`Wrong code`,
    words: say`This is not the code that the server shows.`,
    remedy: say`Type the code from the server’s window. After five wrong ones it shows a new one.`,
  },
  'sign-in-wrong': {
    status: 401,
    title: say`Name or password wrong`,
    words: say`The name and the password do not fit each other.`,
    remedy: say`Give the name in full, not the initials, and check both. A lead can set a new password on the People screen.`,
  },
  'pin-wrong': {
    status: 401,
    title: say`PIN wrong`,
    words: say`This is not the PIN of the person you chose.`,
    remedy: say`Choose your own name and type your PIN again, or sign in with your password.`,
  },
  'pin-off': {
    status: 403,
    title: say`PIN switched off`,
    words: say`This PIN was typed wrong ten times in a row and does not work any more.`,
    remedy: say`Sign in once with your name and password: then the PIN works again.`,
  },
  'not-shared': {
    status: 403,
    title: say`Not a shared tablet`,
    words: say`A PIN opens only on a tablet that a lead has made a shared one, and this is none, or no longer.`,
    remedy: say`Sign in with your name and password. A lead can make this browser a shared tablet on the People screen.`,
  },
  'password-wrong': {
    status: 403,
    title: say`Password wrong`,
    words: say`The current password is not this one.`,
    remedy: say`Type the password with which you signed in.`,
  },
  'own-password': {
    status: 409,
    title: say`Your own password`,
    words: say`This sets a password for somebody else.`,
    remedy: say`Change your own under your initials, with the present one.`,
  },
  'name-taken': {
    status: 409,
    title: say`Name taken`,
    words: say`Somebody here has this name already.`,
    remedy: say`Choose another name; case makes no difference.`,
  },
  'last-lead': {
    status: 409,
    title: say`The last lead`,
    words: say`This is the only active lead, and without one nobody could let people in.`,
    remedy: say`Make somebody else a lead first.`,
  },
  'no-such-entry': {
    status: 404,
    title: say`No such entry`,
    words: say`The ledger has no entry of that number yet.`,
    remedy: say`Give the number of an entry that is there.`,
  },
  'list-moved-on': {
    status: 409,
    title: say`Not as it was shown`,
    words: say`What would be recorded is no longer what was shown: somebody has recorded something in the meantime, or a new day has begun.`,
    remedy: say`Look at the list again, then record it.`,
  },
  'ledger-conflict': {
    status: 409,
    title: say`The ledger says otherwise`,
    words: say`The ledger holds something that stands against this.`,
    remedy: say`See each problem.`,
  },
} as const satisfies Record<string, HttpProblem>;

export type HttpProblemCode = keyof typeof HTTP_PROBLEMS;
