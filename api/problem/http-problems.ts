/**
 * Every way in which the server says no as a whole, with its status, its words and its remedy. The order is the order of precedence:
 * what is wrong with a request comes before who sent it, and that before what it says. What is wrong inside a body is a refusal of
 * `shared/problem`, told in the list `problems`.
 */

type HttpProblem = { readonly status: 400 | 401 | 403 | 404 | 409 | 413 | 415 | 429 | 500 | 503 } & {
  readonly title: string;
  readonly words: string;
  readonly remedy: string;
};

export const HTTP_PROBLEMS = {
  'server-fault': {
    status: 500,
    title: 'The server failed',
    words: 'Something went wrong on the server. What it is stands in its log.',
    remedy: 'Try again. If it happens again, give the number below to whoever runs the server.',
  },
  'other-site': {
    status: 403,
    title: 'Sent from another site',
    words: 'The request comes from a page that is not this server’s own.',
    remedy: 'Open Tarebook at its own address and do it there.',
  },
  'media-type': {
    status: 415,
    title: 'Not JSON',
    words: 'What was sent does not say that it is JSON.',
    remedy: 'Send it with the header Content-Type: application/json.',
  },
  'too-large': {
    status: 413,
    title: 'Too large',
    words: 'What was sent is larger than 1 MB.',
    remedy: 'Send less at a time.',
  },
  'list-too-large': {
    status: 413,
    title: 'List too large',
    words: 'What was sent is larger than 20 MB, or takes longer than a minute to read.',
    remedy: 'Split the list and bring one part after the other.',
  },
  'archive-type': {
    status: 415,
    title: 'Not a ZIP file',
    words: 'What was sent does not say that it is a ZIP file.',
    remedy: 'Send the ZIP in which an aircraft was carried out, with the header Content-Type: application/zip.',
  },
  'archive-too-large': {
    status: 413,
    title: 'Aircraft too large',
    words: 'What was sent is larger than 256 MB, or takes longer than three minutes to read.',
    remedy: 'Bring it in with the command: tarebook bring --from the folder.',
  },
  'photo-type': {
    status: 415,
    title: 'No photo',
    words: 'What was sent does not say that it is a photo.',
    remedy: 'Send a JPEG, a PNG or a WebP with its own Content-Type.',
  },
  'photo-too-large': {
    status: 413,
    title: 'Photo too large',
    words: 'The photo is larger than 12 MB.',
    remedy: 'Take it with fewer pixels, or save it smaller.',
  },
  'not-signed-in': {
    status: 401,
    title: 'Not signed in',
    words: 'Nobody is signed in here, or the session has ended.',
    remedy: 'Sign in. What you were writing is kept where you wrote it.',
  },
  'other-person': {
    status: 403,
    title: 'Somebody else is signed in',
    words: 'What was sent is of another person than the one who is signed in here.',
    remedy: 'Let the person who made it sign in: it goes in under their name.',
  },
  'not-allowed': {
    status: 403,
    title: 'Not allowed',
    words: 'Your role does not allow this.',
    remedy: 'Ask a lead to do it, or to change your role.',
  },
  'pin-session': {
    status: 403,
    title: 'Signed in with a PIN',
    words: 'With a PIN one weighs and reads, and does nothing else.',
    remedy: 'Sign in with your name and password for this, if your role allows it.',
  },
  'not-found': {
    status: 404,
    title: 'Not here',
    words: 'There is nothing under this address.',
    remedy: 'Check the address, or ask a lead whether you may see that aircraft.',
  },
  'not-json': {
    status: 400,
    title: 'Not readable',
    words: 'What was sent is not well-formed JSON.',
    remedy: 'Check brackets, commas and quotation marks.',
  },
  'input-refused': {
    status: 400,
    title: 'Cannot be taken as it is',
    words: 'What was sent cannot be taken as it is.',
    remedy: 'See each problem.',
  },
  throttled: {
    status: 429,
    title: 'Too many tries',
    words: 'There were too many tries in a short time.',
    remedy: 'Wait as many seconds as the header Retry-After says, then try again.',
  },
  busy: {
    status: 503,
    title: 'Too many at once',
    words: 'Too many people are signing in at this moment.',
    remedy: 'Wait a few seconds and try again.',
  },
  'reading-ledger': {
    status: 503,
    title: 'Reading the ledger',
    words: 'Reading the ledger.',
    remedy: 'Ask again in a second: a page does so by itself. It is read once after the server has started.',
  },
  'photos-busy': {
    status: 503,
    title: 'Too many at once',
    words: 'Too many photos are being added at this moment.',
    remedy: 'Wait a few seconds and send it again.',
  },
  'photo-unreadable': {
    status: 400,
    title: 'Photo not readable',
    words: 'This is no JPEG, PNG or WebP, whatever its name, or it is damaged.',
    remedy: 'Take the photo again, or save it as JPEG.',
  },
  'photo-too-many-pixels': {
    status: 400,
    title: 'Too many pixels',
    words: 'The photo has more than 50 million pixels.',
    remedy: 'Take it with fewer pixels, or save it smaller.',
  },
  'photos-enough': {
    status: 409,
    title: 'Enough photos',
    words: 'This part has 24 photos, which is the most.',
    remedy: 'Remove one that is not needed any more.',
  },
  'photo-id-taken': {
    status: 409,
    title: 'Another photo',
    words: 'The id of the photo belongs to one of another part.',
    remedy: 'Send it with an id of its own.',
  },
  'first-run-done': {
    status: 409,
    title: 'Already set up',
    words: 'The first account has been made already.',
    remedy: 'Sign in, or ask a lead for an account.',
  },
  'code-wrong': {
    status: 403,
    title: 'Wrong code',
    words: 'This is not the code that the server shows.',
    remedy: 'Type the code from the server’s window. After five wrong ones it shows a new one.',
  },
  'sign-in-wrong': {
    status: 401,
    title: 'Name or password wrong',
    words: 'The name and the password do not fit each other.',
    remedy:
      'Give the name in full, not the initials, and check both. A lead can set a new password on the People screen.',
  },
  'pin-wrong': {
    status: 401,
    title: 'PIN wrong',
    words: 'This is not the PIN of the person you chose.',
    remedy: 'Choose your own name and type your PIN again, or sign in with your password.',
  },
  'pin-off': {
    status: 403,
    title: 'PIN switched off',
    words: 'This PIN was typed wrong ten times in a row and does not work any more.',
    remedy: 'Sign in once with your name and password: then the PIN works again.',
  },
  'not-shared': {
    status: 403,
    title: 'Not a shared tablet',
    words: 'A PIN opens only on a tablet that a lead has made a shared one, and this is none, or no longer.',
    remedy: 'Sign in with your name and password. A lead can make this browser a shared tablet on the People screen.',
  },
  'password-wrong': {
    status: 403,
    title: 'Password wrong',
    words: 'The current password is not this one.',
    remedy: 'Type the password with which you signed in.',
  },
  'own-password': {
    status: 409,
    title: 'Your own password',
    words: 'This sets a password for somebody else.',
    remedy: 'Change your own under your initials, with the present one.',
  },
  'name-taken': {
    status: 409,
    title: 'Name taken',
    words: 'Somebody here has this name already.',
    remedy: 'Choose another name; case makes no difference.',
  },
  'last-lead': {
    status: 409,
    title: 'The last lead',
    words: 'This is the only active lead, and without one nobody could let people in.',
    remedy: 'Make somebody else a lead first.',
  },
  'no-such-entry': {
    status: 404,
    title: 'No such entry',
    words: 'The ledger has no entry of that number yet.',
    remedy: 'Give the number of an entry that is there.',
  },
  'list-moved-on': {
    status: 409,
    title: 'Not as it was shown',
    words:
      'What would be recorded is no longer what was shown: somebody has recorded something in the meantime, or a new day has begun.',
    remedy: 'Look at the list again, then record it.',
  },
  'ledger-conflict': {
    status: 409,
    title: 'The ledger says otherwise',
    words: 'The ledger holds something that stands against this.',
    remedy: 'See each problem.',
  },
} as const satisfies Record<string, HttpProblem>;

export type HttpProblemCode = keyof typeof HTTP_PROBLEMS;
