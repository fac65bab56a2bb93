/**
 * Every way in which Tarebook says no, each with its words and its remedy. Refusals are data; this is the one place
 * where they become sentences. The order is the order of precedence: what is wrong with a whole file comes before what
 * is wrong in a cell, and what a cell says before what the ledger makes of it.
 */
import { ARCHIVE_WORDS, type ArchiveRefusal } from '#shared/archive/refusal.ts';
import type { GeometryRefusal } from '#shared/geometry/refusal.ts';
import { LOADING_WORDS, type LoadingRefusal } from '#shared/loading/refusal.ts';
import { showFixed, showLength, showMass } from '#shared/quantity/show.ts';
import type { QuantityRefusal } from '#shared/quantity/typed.ts';
import { SCALE_LINE_WORDS, type ScaleLineRefusal } from '#shared/weighing/scale-line-refusal.ts';

/** A file as a whole. */
type FileRefusal =
  | { readonly code: 'file-empty' }
  | { readonly code: 'file-is-workbook' }
  | { readonly code: 'file-not-text' }
  | { readonly code: 'file-unreadable'; readonly why: string }
  | { readonly code: 'file-not-json'; readonly why: string }
  | { readonly code: 'file-too-large'; readonly most: string }
  | { readonly code: 'workbook-unreadable'; readonly why: string }
  | { readonly code: 'quote-not-closed' }
  | { readonly code: 'quote-misplaced' }
  | { readonly code: 'no-rows' }
  | { readonly code: 'column-missing'; readonly column: string; readonly found: readonly string[] }
  | { readonly code: 'column-twice'; readonly column: string; readonly other: string }
  | { readonly code: 'column-unit-unknown'; readonly unit: string; readonly known: readonly string[] }
  | { readonly code: 'cells-too-many'; readonly cells: number; readonly columns: number };

/** One cell or one field. */
type FieldRefusal =
  | QuantityRefusal
  | ScaleLineRefusal
  | { readonly code: 'cell-error'; readonly text: string }
  | { readonly code: 'cell-without-result' }
  | { readonly code: 'cell-is-date'; readonly text: string }
  | { readonly code: 'cell-merged' }
  | { readonly code: 'missing' }
  | { readonly code: 'not-a-count'; readonly text: string; readonly most: number }
  | { readonly code: 'text-refused'; readonly why: string }
  | { readonly code: 'not-a-choice'; readonly text: string; readonly choices: readonly string[] }
  | { readonly code: 'not-a-day'; readonly text: string }
  | { readonly code: 'not-an-entry'; readonly text: string }
  | { readonly code: 'not-piece-numbers'; readonly text: string; readonly most: number }
  | { readonly code: 'field-unknown'; readonly known: readonly string[] }
  | { readonly code: 'shape-refused'; readonly why: string };

/** Fields that do not fit each other. */
type StatementRefusal =
  | { readonly code: 'negative'; readonly what: string }
  | { readonly code: 'estimate-missing'; readonly because: string }
  | { readonly code: 'later-above-estimate'; readonly later: string; readonly estimate: string }
  | { readonly code: 'gross-not-above-tare'; readonly gross: string; readonly tare: string }
  | { readonly code: 'readings-differ'; readonly gross: number; readonly tare: number }
  | { readonly code: 'pieces-disagree'; readonly named: number; readonly count: number }
  | { readonly code: 'which-piece'; readonly part: string; readonly quantity: number }
  | { readonly code: 'no-such-piece'; readonly piece: number; readonly part: string; readonly quantity: number }
  | { readonly code: 'finish-above-later'; readonly finish: string; readonly later: string }
  | { readonly code: 'arm-missing' }
  | { readonly code: 'arm-stated-twice' }
  | { readonly code: 'arm-ways-mixed'; readonly how: string }
  | { readonly code: 'by-hand-without-uncertainty' }
  | { readonly code: 'arm-disagrees' }
  | { readonly code: 'station-from-geometry'; readonly station: string }
  | { readonly code: 'geometry-disagrees' }
  | { readonly code: 'supports-at-one-place' }
  | { readonly code: 'supports-bear-nothing' }
  | { readonly code: 'supports-too-few'; readonly count: number; readonly least: number }
  | { readonly code: 'supports-in-line' }
  | { readonly code: 'support-twice'; readonly support: string }
  | { readonly code: 'support-y-missing'; readonly support: string }
  | { readonly code: 'support-z-missing'; readonly support: string }
  | { readonly code: 'tilt-too-small'; readonly angle: string }
  | { readonly code: 'no-run' }
  | { readonly code: 'all-runs-set-aside' }
  | { readonly code: 'reading-missing'; readonly support: string }
  | { readonly code: 'runs-disagree'; readonly apart: string; readonly limit: string }
  | { readonly code: 'sign-twice'; readonly text: string }
  | { readonly code: 'fluid-by-mass' }
  | { readonly code: 'nothing-left'; readonly left: string }
  | { readonly code: 'checklist-open'; readonly open: readonly string[] }
  | { readonly code: 'check-without-words' }
  | { readonly code: 'unsigned' }
  | { readonly code: 'signed-before-weighed'; readonly signed: string; readonly weighed: string }
  | { readonly code: 'not-as-weighed'; readonly stated: string; readonly computed: string }
  | { readonly code: 'net-disagrees'; readonly net: string; readonly readings: string }
  | { readonly code: 'days-reversed'; readonly from: string; readonly to: string }
  | { readonly code: 'coverage-missing' }
  | { readonly code: 'target-zero' }
  | { readonly code: 'reserve-too-large'; readonly reserve: string; readonly target: string }
  | { readonly code: 'range-reversed' }
  | { readonly code: 'group-twice'; readonly group: string }
  | { readonly code: 'chord-unknown' }
  | { readonly code: 'chord-half' }
  | { readonly code: 'schedule-empty' }
  | { readonly code: 'region-twice'; readonly region: string }
  | { readonly code: 'material-twice'; readonly material: string }
  | { readonly code: 'material-unknown'; readonly material: string; readonly known: readonly string[] }
  | { readonly code: 'material-unfit'; readonly material: string; readonly is: string; readonly wanted: string }
  | { readonly code: 'resin-missing' }
  | { readonly code: 'fraction-twice' }
  | { readonly code: 'fraction-impossible'; readonly text: string }
  | { readonly code: 'band-reversed'; readonly low: string; readonly high: string }
  | { readonly code: 'perimeter-missing' }
  | { readonly code: 'perimeter-too-short'; readonly perimeter: string; readonly least: string }
  | { readonly code: 'bevel-too-large'; readonly inset: string; readonly room: string }
  | { readonly code: 'kerfs-above-core'; readonly kerfs: string; readonly core: string }
  | { readonly code: 'tank-arm-twice' }
  | { readonly code: 'resin-not-in-part'; readonly mixed: string; readonly behind: string }
  | { readonly code: 'laid-up-is-stated' }
  | { readonly code: 'not-as-laid-up'; readonly stated: string; readonly computed: string };

/** What the ledger, as it stands, cannot take. */
type LedgerRefusal =
  | { readonly code: 'above-capacity'; readonly gross: string; readonly scale: string; readonly capacity: string }
  | { readonly code: 'is-an-assembly'; readonly part: string; readonly count: number }
  | { readonly code: 'has-no-parts'; readonly part: string }
  | { readonly code: 'assembly-of-many'; readonly part: string; readonly quantity: number }
  | { readonly code: 'not-in-assembly'; readonly part: string; readonly assembly: string }
  | { readonly code: 'in-without-its-assembly'; readonly part: string; readonly assembly: string }
  | { readonly code: 'nothing-in-it'; readonly assembly: string }
  | { readonly code: 'not-of-assembly'; readonly what: string }
  | { readonly code: 'not-weighed'; readonly part: string; readonly piece: number }
  | { readonly code: 'no-such-release'; readonly process: string; readonly seq: number }
  | { readonly code: 'not-called'; readonly process: string }
  | { readonly code: 'adds-up-to-nothing'; readonly by: string; readonly name: string }
  | { readonly code: 'process-and-sum' }
  | { readonly code: 'inspection-missing'; readonly part: string; readonly difference: string }
  | { readonly code: 'unknown-part'; readonly part: string; readonly near: string | undefined }
  | { readonly code: 'part-is-removed'; readonly part: string }
  | { readonly code: 'change-of-no-part'; readonly at: number }
  | { readonly code: 'change-takes-too-much'; readonly at: number; readonly part: string; readonly hasKg: number }
  | { readonly code: 'change-moves-no-station'; readonly at: number; readonly part: string }
  | {
      readonly code: 'ballast-on-wrong-side';
      readonly stationM: number;
      readonly toM: number;
      readonly way: 'forward' | 'aft';
    }
  | { readonly code: 'cg-range-missing' }
  | { readonly code: 'cg-missing' }
  | { readonly code: 'limits-missing' }
  | { readonly code: 'proposal-says-nothing' }
  | { readonly code: 'saving-stated-twice' }
  | { readonly code: 'proposal-id-reused' }
  | { readonly code: 'proposal-moved-on'; readonly revision: number; readonly by: string }
  | { readonly code: 'brief-id-reused' }
  | { readonly code: 'brief-closed'; readonly state: string; readonly by: string }
  | { readonly code: 'brief-moved-on'; readonly by: string }
  | { readonly code: 'brief-unknown'; readonly text: string; readonly known: readonly string[] }
  | { readonly code: 'file-taken'; readonly file: string }
  | { readonly code: 'file-not-written'; readonly file: string; readonly why: string }
  | { readonly code: 'weighing-is-signed' }
  | { readonly code: 'weighing-draft-gone' }
  | { readonly code: 'part-has-entries'; readonly part: string; readonly count: number }
  | { readonly code: 'number-twice'; readonly number: string; readonly firstLine: number }
  | {
      readonly code: 'number-taken';
      readonly number: string;
      readonly seq: number;
      readonly differs: readonly string[];
    }
  | { readonly code: 'row-twice'; readonly firstLine: number }
  | { readonly code: 'unknown-assembly'; readonly assembly: string; readonly near: string | undefined }
  | { readonly code: 'assembly-cycle'; readonly path: readonly string[] }
  | { readonly code: 'day-in-future'; readonly day: string; readonly today: string }
  | { readonly code: 'reason-missing' }
  | { readonly code: 'nothing-to-correct' }
  | { readonly code: 'already-corrected'; readonly bySeq: number }
  | { readonly code: 'correction-of-other-kind'; readonly is: string; readonly asked: string }
  | { readonly code: 'correction-changes-nothing' }
  | { readonly code: 'entry-id-reused'; readonly seq: number; readonly fields: readonly string[] }
  | { readonly code: 'aircraft-unknown'; readonly name: string; readonly known: readonly string[] }
  | { readonly code: 'aircraft-name-taken'; readonly name: string }
  | { readonly code: 'no-such-entry'; readonly seq: number; readonly last: number }
  | { readonly code: 'period-reversed'; readonly from: string; readonly to: string }
  | { readonly code: 'folder-missing'; readonly folder: string }
  | { readonly code: 'nothing-to-import' };

export type Refusal =
  | FileRefusal
  | ArchiveRefusal
  | GeometryRefusal
  | FieldRefusal
  | StatementRefusal
  | LoadingRefusal
  | LedgerRefusal;
export type RefusalCode = Refusal['code'];

export type Explained = { readonly words: string; readonly remedy: string };

type Registry = { readonly [Code in RefusalCode]: (facts: Extract<Refusal, { code: Code }>) => Explained };

export const REGISTRY: Registry = {
  'file-empty': () => ({
    words: 'The file is empty.',
    remedy: 'Give a CSV file with a line of headings and a line for each row.',
  }),
  'file-is-workbook': () => ({
    words: 'This is a spreadsheet workbook under the name of a text file.',
    remedy: 'Open it in the spreadsheet and save it as CSV (UTF-8).',
  }),
  'file-not-text': () => ({
    words: 'The file is not UTF-8 text.',
    remedy: 'Save it again as CSV (UTF-8).',
  }),
  'file-unreadable': ({ why }) => ({
    words: `The file cannot be read (${why}).`,
    remedy: 'Check its name, and that you may read it.',
  }),
  'file-not-json': ({ why }) => ({
    words: `The file is not JSON: ${why}.`,
    remedy: 'Give one entry in braces, or a list of them in brackets.',
  }),
  'file-too-large': ({ most }) => ({
    words: `The file is larger than ${most}.`,
    remedy: 'Split it into smaller files.',
  }),
  'workbook-unreadable': ({ why }) => ({
    words: `The workbook cannot be read: ${why}.`,
    remedy: 'Save it in the spreadsheet as XLSX without a password, or as CSV (UTF-8), and bring that.',
  }),
  'quote-not-closed': () => ({
    words: 'A quotation mark opens here and is never closed.',
    remedy: 'Close it, or write two of them where one is meant inside a quoted cell.',
  }),
  'quote-misplaced': () => ({
    words: 'A quotation mark stands in the middle of a cell.',
    remedy: 'Put the whole cell in quotation marks and write the inner mark twice, or leave the mark out.',
  }),
  'no-rows': () => ({
    words: 'There are headings but no rows.',
    remedy: 'Add a line for each row below the headings.',
  }),
  'column-missing': ({ column, found }) => ({
    words: `No column is headed ${column}.`,
    remedy: `Add one. The headings found are: ${found.join(', ')}.`,
  }),
  'column-twice': ({ column, other }) => ({
    words: `Two columns both give the ${column}; the other is headed ${other}.`,
    remedy: 'Rename or remove one of the two.',
  }),
  'column-unit-unknown': ({ unit, known }) => ({
    words: `The heading names a unit that is not known here: ${unit}.`,
    remedy: `Use one of: ${known.join(', ')}.`,
  }),
  'cells-too-many': ({ cells, columns }) => ({
    words: `The row has ${cells} cells under ${columns} headings.`,
    remedy: 'Put a cell that holds the separator in quotation marks, or remove the extra cells.',
  }),
  ...ARCHIVE_WORDS,
  'mesh-too-large': ({ megabytes, most }) => ({
    words: `The file has ${megabytes}; more than ${most} is not read.`,
    remedy: 'Save it from CAD with coarser triangles, or one part to a file.',
  }),
  'mesh-empty': () => ({
    words: 'The file is empty.',
    remedy: 'Save the part from CAD once more, as STL or OBJ.',
  }),
  'mesh-not-known': () => ({
    words: 'This is neither an STL nor an OBJ file, whatever its name.',
    remedy: 'Save the part from CAD as STL, binary or text, or as OBJ.',
  }),
  'mesh-cut-short': ({ triangles, expected, found }) => ({
    words: `By its own count of ${showFixed(triangles, 0)} triangles this STL file should have ${showFixed(expected, 0)} bytes; it has ${showFixed(found, 0)}.`,
    remedy: 'It was cut off or damaged on its way: save or copy it once more.',
  }),
  'mesh-ends-early': () => ({
    words: 'The file ends in the middle, before “endsolid”.',
    remedy: 'It was cut off on its way: save or copy it once more.',
  }),
  'mesh-line-unreadable': ({ line, text }) => ({
    words: `Line ${showFixed(line, 0)} cannot be read: ${quoted(text)}.`,
    remedy: 'Numbers need a decimal point, and a face its corners. Save the part from CAD once more, as STL or OBJ.',
  }),
  'mesh-not-finite': ({ where }) => ({
    words: `A corner is nowhere, at ${where}: its place is not a number.`,
    remedy: 'Repair the part in CAD, and save it once more.',
  }),
  'mesh-no-such-vertex': ({ line, vertex, vertices }) => ({
    words: `Line ${showFixed(line, 0)} names vertex ${showFixed(vertex, 0)}, and there are ${showFixed(vertices, 0)}, counted from 1.`,
    remedy: 'The file was cut off or damaged: save it from CAD once more.',
  }),
  'mesh-without-triangles': () => ({
    words: 'There are no triangles in the file.',
    remedy: 'Choose the part in CAD before it is saved, surfaces and not only lines.',
  }),
  'mesh-too-far': ({ metres, most }) => ({
    words: `In this unit the part would reach ${metres} from its zero; ${most} is the most.`,
    remedy: 'Check the unit that the part is drawn in, and where its zero is.',
  }),
  'mesh-without-area': () => ({
    words: 'All triangles of the file are lines or points, without an area.',
    remedy: 'Check the part in CAD, and how finely it is saved.',
  }),
  'solid-open': ({ edges }) => ({
    words: `It is not closed: ${edges === 1 ? 'one edge has' : `${showFixed(edges, 0)} edges have`} a triangle missing or too many, so it has no inside and no volume.`,
    remedy: 'Close it in CAD, or measure it as a shell.',
  }),
  'solid-turned-over': ({ edges }) => ({
    words: `Some triangles face inwards and others outwards, along ${edges === 1 ? 'one edge' : `${showFixed(edges, 0)} edges`}: its volume cannot be told.`,
    remedy: 'Turn the faces all one way in CAD, or measure it as a shell.',
  }),
  'solid-without-volume': () => ({
    words: 'It is closed and yet encloses nothing: its faces lie on each other.',
    remedy: 'Check the part in CAD, or measure it as a shell; both faces would count then.',
  }),
  'axes-along-one-line': ({ line }) => ({
    words: `Two axes of the part point ${line}.`,
    remedy: 'Let one point aft or forward, one right or left, one up or down.',
  }),
  'axes-mirror-the-part': () => ({
    words: 'Pointing so, the axes would make the part its own mirror image.',
    remedy: 'Turn one of them round, or say that the part is the mirror image of its drawing.',
  }),
  'axes-do-not-mirror': () => ({
    words: 'The part is said to be the mirror image of its drawing, and pointing so, the axes do not mirror it.',
    remedy:
      'Turn one of them round: that to the right or left for the part of the other side. Or say that it is as drawn.',
  }),
  'number-too-long': ({ text, most }) => ({
    words: `${quoted(text)} is longer than a number with its unit needs to be.`,
    remedy: `Write it in ${most} characters or fewer.`,
  }),
  'not-a-number': ({ text }) => ({
    words: `${quoted(text)} is not a number.`,
    remedy: 'Write plain digits with a point or a comma for decimals and no thousands separator, for example 1.25 kg.',
  }),
  'ambiguous-comma': ({ text }) => ({
    words: `${quoted(text)} can be read two ways: a little over one, or over a thousand.`,
    remedy: 'Write 1.234 or 1234.',
  }),
  'unit-missing': ({ text, known }) => ({
    words: `${quoted(text)} has no unit.`,
    remedy: `Add one behind the number: ${known.join(', ')}. In a list it may stand in the heading, or in a column of its own.`,
  }),
  'unit-unknown': ({ text, unit, known }) => ({
    words: `${quoted(unit)} in ${quoted(text)} is not a unit that is known here.`,
    remedy: `Use one of: ${known.join(', ')}.`,
  }),
  'out-of-range': ({ text, least, most }) => ({
    words: `${quoted(text)} lies outside what is possible here.`,
    remedy: `Give a value from ${least} to ${most}.`,
  }),
  'ambiguous-share': ({ text }) => ({
    words: `${quoted(text)} can be read as a fraction or as a per cent.`,
    remedy: 'Write the per cent sign: 24 %.',
  }),
  ...SCALE_LINE_WORDS,
  'cell-error': ({ text }) => ({
    words: `The spreadsheet has an error here (${text}) and no value.`,
    remedy: 'Put the formula right and bring the file again, or type what the cell should say.',
  }),
  'cell-without-result': () => ({
    words: 'The spreadsheet has a formula here whose result is not in the file.',
    remedy: 'Open the file in the spreadsheet, save it and bring it again, or type what the cell should say.',
  }),
  'cell-is-date': ({ text }) => ({
    words: `The spreadsheet holds a date here (${text}); perhaps it made one of something that looked like a date.`,
    remedy: 'Type what the cell should say.',
  }),
  'cell-merged': () => ({
    words: 'In the spreadsheet this cell is merged with another, which alone holds the value.',
    remedy: 'Unmerge the cells and bring the file again, or type what holds for this row.',
  }),
  missing: () => ({ words: 'Nothing is given here.', remedy: 'Fill it in.' }),
  'not-a-count': ({ text, most }) => ({
    words: `${quoted(text)} is not a whole number that fits here.`,
    remedy: `Give a whole number from 1 to ${most}.`,
  }),
  'text-refused': ({ why }) => ({ words: `The text ${why}.`, remedy: 'Change it.' }),
  'not-a-choice': ({ text, choices }) => ({
    words: `${quoted(text)} is not one of the words used here.`,
    remedy: `Use one of: ${choices.join(', ')}.`,
  }),
  'not-a-day': ({ text }) => ({
    words: `${quoted(text)} is not a day of the calendar, or its order is open to doubt.`,
    remedy: 'Write year, month, day: 2026-05-31.',
  }),
  'not-an-entry': ({ text }) => ({
    words: `${quoted(text)} is not the number of an entry.`,
    remedy: 'Give the number that stands before the entry in the ledger.',
  }),
  'not-piece-numbers': ({ text, most }) => ({
    words: `${quoted(text)} does not name pieces.`,
    remedy: `Write piece numbers from 1 to ${most}: 3, or 1-4, or 1, 3.`,
  }),
  'field-unknown': ({ known }) => ({
    words: 'This field is not known here.',
    remedy: `Leave it out, or use one of: ${known.join(', ')}.`,
  }),
  'shape-refused': ({ why }) =>
    why.startsWith('must ')
      ? { words: `It ${why}.`, remedy: 'Change it.' }
      : { words: `This cannot be taken: ${why}.`, remedy: 'Change it as said.' },
  negative: ({ what }) => ({ words: `The ${what} is below zero.`, remedy: 'Give 0 or more.' }),
  'estimate-missing': ({ because }) => ({
    words: `There is no estimate, yet a value is given under ${because}.`,
    remedy: 'Give the estimated mass as well, or leave that value out until there is one.',
  }),
  'later-above-estimate': ({ later, estimate }) => ({
    words: `What goes on later (${later}) is more than the installed estimate (${estimate}).`,
    remedy: 'The estimate is the installed mass and includes what goes on later: raise it, or lower the later mass.',
  }),
  'gross-not-above-tare': ({ gross, tare }) => ({
    words: `The gross (${gross}) is not above the tare (${tare}), so no mass is left.`,
    remedy: 'Check the two readings; they may be swapped.',
  }),
  'readings-differ': ({ gross, tare }) => ({
    words: `The readings do not pair off: gross ${gross}, tare ${tare}.`,
    remedy: 'Give one tare for all, or one for each gross reading.',
  }),
  'pieces-disagree': ({ named, count }) => ({
    words: `The pieces do not agree: named ${named}, counted ${count}.`,
    remedy: 'Make the two agree, or give only one of them.',
  }),
  'which-piece': ({ part, quantity }) => ({
    words: `Part ${part} has ${quantity} pieces, and it is not said which stood on the scale.`,
    remedy: `Name the piece (1 to ${quantity}), or give ${quantity} under pieces if all stood there together.`,
  }),
  'no-such-piece': ({ piece, part, quantity }) => ({
    words: `Part ${part} has ${quantity === 1 ? 'one piece' : `${quantity} pieces`}, so there is no piece ${piece}.`,
    remedy: 'Check the piece and the part number; correct the part if its quantity is wrong.',
  }),
  'finish-above-later': ({ finish, later }) => ({
    words: `The finish (${finish}) is more than what goes on later (${later}).`,
    remedy: 'The finish is a part of what goes on later: raise the one, or lower the other.',
  }),
  'arm-missing': () => ({ words: 'No arm is given.', remedy: 'Give at least one of x, y and z.' }),
  'arm-stated-twice': () => ({
    words: 'A station is given, and what it follows from as well: loads on two supports, or a balance point.',
    remedy: 'Leave out x and its uncertainty: they follow. Or leave out the loads or the balance point.',
  }),
  'arm-ways-mixed': ({ how }) => ({
    words: `The arm is said to be measured ${how}, and this belongs to another way.`,
    remedy: 'Leave this out, or say how it was measured.',
  }),
  'by-hand-without-uncertainty': () => ({
    words: 'An arm found by hand is only as good as the hand: its uncertainty is missing.',
    remedy: 'Give the station’s uncertainty: how far it may well be off, as a length.',
  }),
  'arm-disagrees': () => ({
    words: 'The arm is not the one that follows from how it was measured.',
    remedy: 'Leave the arm out: it follows from the loads or the balance point.',
  }),
  'station-from-geometry': ({ station }) => ({
    words: `The station ${station} comes from the part's geometry, and is given as well.`,
    remedy: 'Leave it out, or leave the geometry out.',
  }),
  'geometry-disagrees': () => ({
    words: 'The stations are not those of the geometry that comes with them.',
    remedy: 'Leave the stations out: they follow from the geometry.',
  }),
  'supports-at-one-place': () => ({
    words: 'The supports stand at the same station.',
    remedy: 'Check their stations; supports must stand apart.',
  }),
  'supports-bear-nothing': () => ({
    words: 'Nothing rests on the supports.',
    remedy: 'Check the two loads; their sum must be above zero.',
  }),
  'supports-too-few': ({ count, least }) => ({
    words: `${count === 0 ? 'There are no supports' : count === 1 ? 'There is one support' : `There are ${count} supports`}, and ${least === 2 ? 'two at different stations are the least for a CG' : 'three are the least for y'}.`,
    remedy: least === 2 ? 'Add every support that carries a part of the weight.' : 'Add the others, or leave y out.',
  }),
  'supports-in-line': () => ({
    words: 'Seen from above, the supports stand in one line: y does not follow from them.',
    remedy: 'Check their stations. The line left and right of the middle counts with a sign: right is positive.',
  }),
  'support-twice': ({ support }) => ({
    words: `There are two supports “${support}”.`,
    remedy: 'Give each support a name of its own.',
  }),
  'support-y-missing': ({ support }) => ({
    words: `Other supports have a y, and ${quoted(support)} has none.`,
    remedy: 'Give y for every support, 0 for one in the middle, or for none.',
  }),
  'support-z-missing': ({ support }) => ({
    words: `A tilted weighing needs the height of what carries, and that of ${quoted(support)} is missing.`,
    remedy: 'Give z of the axle or jack point, or leave the tilted runs out.',
  }),
  'tilt-too-small': ({ angle }) => ({
    words: `A tilt of ${angle} is too little to find a height by.`,
    remedy:
      'Tilt the aircraft by half a degree at the very least, better by five or more, or leave the tilted runs out.',
  }),
  'no-run': () => ({
    words: 'Nothing is read from the scales.',
    remedy: 'Read every support at least once; twice is common practice.',
  }),
  'all-runs-set-aside': () => ({
    words: 'All runs are set aside, so none counts.',
    remedy: 'Let one count, or weigh once more.',
  }),
  'reading-missing': ({ support }) => ({
    words: `There is no reading for ${quoted(support)}.`,
    remedy: 'Read every support in every run, or remove the run.',
  }),
  'runs-disagree': ({ apart, limit }) => ({
    words: `The runs do not agree: they lie ${apart} apart, and ${limit} is allowed.`,
    remedy: 'Weigh once more, and set the run aside that is wrong, with the reason. It stays in the record.',
  }),
  'sign-twice': ({ text }) => ({
    words: `${quoted(text)} has a minus and is to be taken off: that can be read two ways.`,
    remedy: 'Leave the minus out.',
  }),
  'fluid-by-mass': () => ({
    words: 'A fluid is given by volume and density, and here a mass stands beside it.',
    remedy: 'Leave the mass out, or leave fluid, volume and density out.',
  }),
  'nothing-left': ({ left }) => ({
    words: `What is taken off leaves no aircraft: ${left}.`,
    remedy: 'Check the units of what is taken off, and the readings.',
  }),
  'checklist-open': ({ open }) => ({
    words: `The checklist is not answered: ${open.join(', ')}.`,
    remedy: 'Answer each with yes, or with no and a word on why.',
  }),
  'check-without-words': () => ({
    words: 'Something on the checklist was not so, and it is not said what was done instead.',
    remedy: 'Say it in a few words; it is printed on the report.',
  }),
  unsigned: () => ({
    words: 'The weighing is not signed.',
    remedy: 'Give the name of the person who answers for it. Until then it is a draft.',
  }),
  'signed-before-weighed': ({ signed, weighed }) => ({
    words: `It would be signed (${signed}) before it was weighed (${weighed}).`,
    remedy: 'Check the two days.',
  }),
  'not-as-weighed': ({ stated, computed }) => ({
    words: `The weighing says ${stated}, and its readings come to ${computed}.`,
    remedy: 'Leave the figure out: it follows from the readings.',
  }),
  'net-disagrees': ({ net, readings }) => ({
    words: `The net (${net}) is not the mean of the readings (${readings}).`,
    remedy: 'Leave the net out; it follows from gross and tare.',
  }),
  'days-reversed': ({ from, to }) => ({
    words: `The calibration would end (${to}) before it begins (${from}).`,
    remedy: 'Check the two days.',
  }),
  'coverage-missing': () => ({
    words: 'It is not said whether the uncertainty of the calibration is a standard or an expanded one.',
    remedy: 'Give the coverage factor that the certificate states beside it: 1 or 2. Certificates mostly state k = 2.',
  }),
  'target-zero': () => ({ words: 'The empty-mass target is zero.', remedy: 'Give the design empty mass.' }),
  'reserve-too-large': ({ reserve, target }) => ({
    words: `The reserve (${reserve}) is not below the target (${target}).`,
    remedy: 'The reserve is the part of the target kept back; make it smaller.',
  }),
  'range-reversed': () => ({
    words: 'The forward end of the CG range does not lie ahead of the aft end.',
    remedy: 'Stations grow aft: give the smaller one as the forward end.',
  }),
  'group-twice': ({ group }) => ({ words: `Group ${group} has two targets.`, remedy: 'Keep one.' }),
  'chord-unknown': () => ({
    words: 'A station in per cent MAC needs the chord, and the aircraft does not state it.',
    remedy: 'Give the station as a length, or state MAC and its leading edge first.',
  }),
  'chord-half': () => ({
    words: 'Of the mean aerodynamic chord only one of length and leading edge is given.',
    remedy: 'Give both, or neither.',
  }),
  'schedule-empty': () => ({
    words: 'The schedule has no lines.',
    remedy: 'Give at least one region with one line, or leave the schedule out.',
  }),
  'region-twice': ({ region }) => ({
    words: `Two regions are named ${region}.`,
    remedy: 'Give each region a name of its own.',
  }),
  'material-twice': ({ material }) => ({
    words: `The material ${material} is described twice.`,
    remedy: 'Keep one description, or give the other a name of its own.',
  }),
  'material-unknown': ({ material, known }) => ({
    words: `No material is named ${quoted(material)}.`,
    remedy:
      known.length === 0 ? 'Describe the material first.' : `Describe it first, or use one of: ${known.join(', ')}.`,
  }),
  'material-unfit': ({ material, is, wanted }) => ({
    words: `${quoted(material)} is of the kind ${is}, and what is needed here is ${wanted}.`,
    remedy: 'Choose another material, or another kind of line.',
  }),
  'resin-missing': () => ({
    words: 'Plies or kerfs are to be filled with resin, and it is not said with which or with how much.',
    remedy: 'Name the resin and give the fibre fraction by mass or by volume.',
  }),
  'fraction-twice': () => ({
    words: 'The fibre fraction is given by mass and by volume.',
    remedy: 'Give one of the two: the other follows from the densities.',
  }),
  'fraction-impossible': ({ text }) => ({
    words: `A fibre fraction of ${quoted(text)} leaves no fibre or no resin.`,
    remedy: 'Give a share between 0 % and 100 %, both left out, for example 55 %.',
  }),
  'band-reversed': ({ low, high }) => ({
    words: `The lower end of the usual fibre fraction (${low}) is not below the upper end (${high}).`,
    remedy: 'Both are fibre by mass: give the smaller one as the lower end.',
  }),
  'perimeter-missing': () => ({
    words: 'The core has a bevel, and the length around it is not given.',
    remedy: 'Give the perimeter of the core or of its region.',
  }),
  'perimeter-too-short': ({ perimeter, least }) => ({
    words: `The perimeter (${perimeter}) is too short to go around this area; it needs ${least} or more.`,
    remedy: 'Check area, perimeter and outline.',
  }),
  'bevel-too-large': ({ inset, room }) => ({
    words: `The bevel runs inwards by ${inset}, and from each edge there is room for ${room} only.`,
    remedy: 'Check the angle (it is measured from the plane of the panel), the thickness and the size of the core.',
  }),
  'kerfs-above-core': ({ kerfs, core }) => ({
    words: `The kerfs (${kerfs}) are more than the core (${core}).`,
    remedy: 'Check their length, width and depth.',
  }),
  'resin-not-in-part': ({ mixed, behind }) => ({
    words: `Of the resin that was mixed (${mixed}) nothing is left for the part: ${behind} stayed behind.`,
    remedy: 'Check the three figures; they are for everything that is on the scale.',
  }),
  'tank-arm-twice': () => ({
    words: 'The tank has one station, and a table of stations by quantity as well.',
    remedy: 'Leave one of the two out.',
  }),
  'laid-up-is-stated': () => ({
    words: 'This follows from the lay-up schedule and is given beside it.',
    remedy: 'Leave it out, or leave the schedule out. The evidence of a schedule is “calculated”.',
  }),
  'not-as-laid-up': ({ stated, computed }) => ({
    words: `The estimate says ${stated}, and its lay-up schedule comes to ${computed}.`,
    remedy: 'Leave the figure out: it follows from the schedule.',
  }),
  ...LOADING_WORDS,
  'above-capacity': ({ gross, scale, capacity }) => ({
    words: `The gross (${gross}) is above the capacity of scale ${scale} (${capacity}).`,
    remedy: 'Check the reading and the scale; weigh on a larger one if it is right.',
  }),
  'is-an-assembly': ({ part, count }) => ({
    words: `${part} is an assembly of ${count === 1 ? 'one part' : `${count} parts`}, and it is not said which were in it on the scale.`,
    remedy:
      'Record it as an assembly weighing and name the parts that are not yet in it; in a list, give a column “not yet in” and write “none” where all are.',
  }),
  'has-no-parts': ({ part }) => ({
    words: `${part} has no parts of its own and so is no assembly.`,
    remedy: 'Record it as a weighing, or first say which parts belong to it.',
  }),
  'assembly-of-many': ({ part, quantity }) => ({
    words: `Assembly ${part} is there ${quantity} times, and it cannot be told which parts are in which.`,
    remedy: 'Give each of them a part number of its own.',
  }),
  'not-in-assembly': ({ part, assembly }) => ({
    words: `Part ${part} does not belong to assembly ${assembly}.`,
    remedy: 'Check the number, or correct the assembly of the part.',
  }),
  'in-without-its-assembly': ({ part, assembly }) => ({
    words: `Part ${part} is said to be in it, but ${assembly}, to which it belongs, is not.`,
    remedy: `Put ${assembly} in as well, or leave ${part} out.`,
  }),
  'nothing-in-it': ({ assembly }) => ({
    words: `No part is left in assembly ${assembly}.`,
    remedy: 'Name as not yet in it only the parts that were not on the scale.',
  }),
  'not-of-assembly': ({ what }) => ({
    words: `A weighed assembly has no ${what} of its own.`,
    remedy: 'Leave the cell empty; what should be kept goes into the note.',
  }),
  'not-weighed': ({ part, piece }) => ({
    words: `Piece ${piece} of part ${part}, the one there was on that day, had not been weighed: there is nothing to decide on.`,
    remedy: 'Weigh it first, or check the day, the piece and the part number.',
  }),
  'no-such-release': ({ process, seq }) => ({
    words: `Entry ${seq} is not the release of a ${process} part: the first weighing of a piece that had an estimate.`,
    remedy: 'Give the number of the weighing at which the process was seen to change.',
  }),
  'not-called': ({ process }) => ({
    words: `The process ${process} is in line: neither of its charts has called it.`,
    remedy: 'To state a cause all the same, give the number of the weighing that it is about as the release.',
  }),
  'adds-up-to-nothing': ({ by, name }) => ({
    words: `The parts of the ${by} ${name} that are each in line do not add up to a finding.`,
    remedy:
      'Nothing has to be explained there. Look under “Many small ones” for the sums that are findings, and give one of their names.',
  }),
  'process-and-sum': () => ({
    words: 'A process with its release and a sum of small differences are both given; an entry explains one of them.',
    remedy:
      'Leave out process and release to explain the sum, or sum of and name to explain the change of the process.',
  }),
  'inspection-missing': ({ part, difference }) => ({
    words: `Part ${part} is light (${difference}) and would be accepted without a word of inspection.`,
    remedy: 'Inspect it before use and say what was found: a light part can be a weak part.',
  }),
  'unknown-part': ({ part, near }) => ({
    words: `No part has the number ${part}.`,
    remedy:
      near === undefined
        ? `Check the number, or add the part first.${part.includes(',') ? ' Several numbers are set apart by semicolons.' : ''}`
        : `Check the number: is it ${near}? Or add the part first.`,
  }),
  'part-is-removed': ({ part }) => ({
    words: `Part ${part} has been removed from the aircraft.`,
    remedy: 'Check the number, or correct the removal first.',
  }),
  'change-of-no-part': ({ at }) => ({
    words: `Change ${at + 1} is of a part that is not on the aircraft.`,
    remedy: 'Choose a part that is there, or add one.',
  }),
  'change-takes-too-much': ({ at, part, hasKg }) => ({
    words: `Change ${at + 1} takes more off ${part} than it has: ${showMass(hasKg, 'kg')} kg.`,
    remedy: 'Take less off, or remove the part.',
  }),
  'change-moves-no-station': ({ at, part }) => ({
    words: `Change ${at + 1} moves ${part}, which has no station to be moved from.`,
    remedy: 'Say where it is to be instead.',
  }),
  'ballast-on-wrong-side': ({ stationM, toM, way }) => ({
    words: `Ballast at ${showLength(stationM, 'm')} m cannot bring the CG ${way} to ${showLength(toM, 'm')} m.`,
    remedy: `Choose a station ${way} of that.`,
  }),
  'cg-range-missing': () => ({
    words: 'The targets have no CG range, so nothing says how far the CG is to be brought.',
    remedy: 'Let a lead set the range in the targets.',
  }),
  'cg-missing': () => ({
    words: 'The aircraft has no CG yet: nothing in it has a mass and a station.',
    remedy: 'Estimate a part, with its station.',
  }),
  'limits-missing': () => ({
    words: 'No loading limits are stated yet, so nothing says what would be inside.',
    remedy: 'Let a lead state them on Loading.',
  }),
  'proposal-says-nothing': () => ({
    words: 'The proposal has neither changes nor a saving.',
    remedy: 'Say what it is expected to save, or keep it with the changes that save it.',
  }),
  'saving-stated-twice': () => ({
    words: 'The saving of this proposal follows from its changes.',
    remedy: 'Leave the saving out.',
  }),
  'proposal-id-reused': () => ({
    words: 'Something else about a proposal has been kept under this id.',
    remedy: 'Give this one an id of its own.',
  }),
  'proposal-moved-on': ({ revision, by }) => ({
    words: `${by} has changed this proposal in the meantime; it is at revision ${revision}.`,
    remedy: 'Look at it as it is now, then change it.',
  }),
  'brief-id-reused': () => ({
    words: 'Another brief, or something else about one, has been kept under this id.',
    remedy: 'Give this one an id of its own.',
  }),
  'brief-closed': ({ state, by }) => ({
    words: `${by} has ${state} this brief; it stays as it is.`,
    remedy: 'Say it in the next brief.',
  }),
  'brief-moved-on': ({ by }) => ({
    words:
      by === ''
        ? 'Nothing has been said of this brief yet that could have been seen.'
        : `${by} has written in this brief in the meantime.`,
    remedy: 'Look at it as it is now, then say it again.',
  }),
  'file-taken': ({ file }) => ({
    words: `${file} is there already.`,
    remedy: 'Name another file, or move that one away: nothing is written over.',
  }),
  'file-not-written': ({ file, why }) => ({
    words: `${file} cannot be written (${why}).`,
    remedy: 'Check that its folder is there, that you may write in it, and that the disk has room.',
  }),
  'brief-unknown': ({ text, known }) => ({
    words: text === '' ? 'There is no brief yet.' : `There is no brief ${text}.`,
    remedy: known.length === 0 ? 'Make one first.' : `Name one of: ${known.join(', ')}.`,
  }),
  'weighing-is-signed': () => ({
    words: 'This weighing has been signed, and can no longer be written in.',
    remedy: 'Read it below. A wrong figure is put right by correcting it; another weighing is begun anew.',
  }),
  'weighing-draft-gone': () => ({
    words: 'This weighing is no longer there: somebody has signed it or given it up.',
    remedy: 'Look at the list of weighings, or begin anew.',
  }),
  'part-has-entries': ({ part, count }) => ({
    words: `Part ${part} has ${count === 1 ? 'an entry' : `${count} entries`} of its own and cannot be struck out as never added.`,
    remedy: 'Record that the part is removed instead.',
  }),
  'number-twice': ({ number, firstLine }) => ({
    words: `Part number ${number} stands in line ${firstLine} already.`,
    remedy: 'One part is one row: give it a quantity, or another number.',
  }),
  'number-taken': ({ number, seq, differs }) => ({
    words: `Part ${number} is in the ledger already (entry ${seq}), with another ${differs.join(', ')}.`,
    remedy:
      'If its estimate has changed, say that changed estimates are revisions; to change anything else correct that entry.',
  }),
  'row-twice': ({ firstLine }) => ({
    words: `The row says the same as line ${firstLine}.`,
    remedy: 'Remove one; if both were really weighed, give them different notes.',
  }),
  'unknown-assembly': ({ assembly, near }) => ({
    words: `The assembly ${assembly} is not the number of a part.`,
    remedy:
      near === undefined
        ? 'Add a row for it; its estimate may be left empty.'
        : `Is it ${near}? Else add a row for it; its estimate may be left empty.`,
  }),
  'assembly-cycle': ({ path }) => ({
    words: `The assembly would contain itself: ${path.join(' in ')}.`,
    remedy: 'Take one of these out of the other.',
  }),
  'day-in-future': ({ day, today }) => ({
    words: `The day ${day} has not come yet (today is ${today}).`,
    remedy: 'Give the day on which it happened.',
  }),
  'reason-missing': () => ({
    words: 'These figures have been set before, and this revision gives no reason.',
    remedy: 'Say why they change.',
  }),
  'nothing-to-correct': () => ({
    words: 'The entry to be corrected is not in this ledger.',
    remedy: 'Check its number or id.',
  }),
  'already-corrected': ({ bySeq }) => ({
    words: `That entry has been corrected already, by entry ${bySeq}.`,
    remedy: `Correct entry ${bySeq} instead.`,
  }),
  'correction-of-other-kind': ({ is, asked }) => ({
    words: `The entry is of the kind "${is}" and cannot become one of the kind "${asked}".`,
    remedy: 'Strike it out with an empty replacement, and record the other as an entry of its own.',
  }),
  'correction-changes-nothing': () => ({
    words: 'The correction says what the entry says already.',
    remedy: 'Change something, or leave the entry as it is.',
  }),
  'entry-id-reused': ({ seq, fields }) => ({
    words: `The id belongs to entry ${seq} already, which differs in: ${fields.join(', ')}.`,
    remedy: 'Give the new entry an id of its own; to change the old one, correct it.',
  }),
  'aircraft-unknown': ({ name, known }) => ({
    words: name === '' ? 'It is not said which aircraft is meant.' : `No aircraft here is named ${name}.`,
    remedy: known.length === 0 ? 'There is none yet: import a parts file first.' : `Name one of: ${known.join(', ')}.`,
  }),
  'aircraft-name-taken': ({ name }) => ({
    words: `An aircraft named ${name} is here already.`,
    remedy: 'Choose another name, or add to the one that is here.',
  }),
  'no-such-entry': ({ seq, last }) => ({
    words: `There is no entry ${seq} yet; the last is ${last}.`,
    remedy: 'Give the number of an entry that is there.',
  }),
  'period-reversed': ({ from, to }) => ({
    words: `What came after ${from} and up to ${to} is nothing: the beginning lies after the end.`,
    remedy: 'Give the earlier one first.',
  }),
  'folder-missing': ({ folder }) => ({
    words: `There is no data folder ${folder}.`,
    remedy: 'Name the right one with --data, or import a parts list to begin a new one.',
  }),
  'nothing-to-import': () => ({
    words: 'No file is given.',
    remedy:
      'Give at least one list: parts, targets or weighings. To begin an aircraft without a list, say where its datum is.',
  }),
};

/** The words and the remedy of a refusal. */
export function explain(refusal: Refusal): Explained {
  const entry = REGISTRY[refusal.code] as (facts: Refusal) => Explained;
  return entry(refusal);
}

/** A cell as it was typed, shortened and on one line. */
function quoted(text: string): string {
  const line = text.trim().replace(/\s+/g, ' ');
  return `“${line.length > 40 ? `${line.slice(0, 39)}…` : line}”`;
}
