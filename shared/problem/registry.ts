/**
 * Every way in which Tarebook says no, each with its words and its remedy. Refusals are data; this is the one place
 * where they become sentences. The order is the order of precedence: what is wrong with a whole file comes before what
 * is wrong in a cell, and what a cell says before what the ledger makes of it.
 */

import { ARCHIVE_WORDS, type ArchiveRefusal } from '#shared/archive/refusal.ts';
import { CHECKPOINT_WORDS, type CheckpointRefusal } from '#shared/checkpoint/refusal.ts';
import type { GeometryRefusal } from '#shared/geometry/refusal.ts';
import { LOADING_WORDS, type LoadingRefusal } from '#shared/loading/refusal.ts';
import { type DisplayUnits, SI_UNITS, showFixed, showLength, showMass } from '#shared/quantity/show.ts';
import type { QuantityRefusal } from '#shared/quantity/typed.ts';
import { SCALE_LINE_WORDS, type ScaleLineRefusal } from '#shared/weighing/scale-line-refusal.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';

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
  | { readonly code: 'estimate-column-missing'; readonly because: string; readonly unused: readonly string[] }
  | { readonly code: 'line-of-sums'; readonly word: string }
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
  | {
      readonly code: 'change-takes-too-much';
      readonly at: number;
      readonly part: string;
      readonly hasKg: number;
      readonly units?: DisplayUnits;
    }
  | { readonly code: 'change-moves-no-station'; readonly at: number; readonly part: string }
  | {
      readonly code: 'ballast-on-wrong-side';
      readonly stationM: number;
      readonly toM: number;
      readonly way: 'forward' | 'aft';
      readonly units?: DisplayUnits;
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
  | LedgerRefusal
  | CheckpointRefusal;
export type RefusalCode = Refusal['code'];

export type Explained = { readonly words: string; readonly remedy: string };

type Registry = { readonly [Code in RefusalCode]: (facts: Extract<Refusal, { code: Code }>) => Explained };

export const REGISTRY: Registry = {
  'file-empty': () => ({
    words: say`The file is empty.`,
    remedy: say`Give a CSV file with a line of headings and a line for each row.`,
  }),
  'file-is-workbook': () => ({
    words: say`This is a spreadsheet workbook under the name of a text file.`,
    remedy: say`Open it in the spreadsheet and save it as CSV (UTF-8).`,
  }),
  'file-not-text': () => ({
    words: say`The file is not UTF-8 text.`,
    remedy: say`Save it again as CSV (UTF-8).`,
  }),
  'file-unreadable': ({ why }) => ({
    words: say`The file cannot be read (${why}).`,
    remedy: say`Check its name, and that you may read it.`,
  }),
  'file-not-json': ({ why }) => ({
    words: say`The file is not JSON: ${why}.`,
    remedy: say`Give one entry in braces, or a list of them in brackets.`,
  }),
  'file-too-large': ({ most }) => ({
    words: say`The file is larger than ${most}.`,
    remedy: say`Split it into smaller files.`,
  }),
  'workbook-unreadable': ({ why }) => ({
    words: say`The workbook cannot be read: ${why}.`,
    remedy: say`Save it in the spreadsheet as XLSX without a password, or as CSV (UTF-8), and bring that.`,
  }),
  'quote-not-closed': () => ({
    words: say`A quotation mark opens here and is never closed.`,
    remedy: say`Close it, or write two of them where one is meant inside a quoted cell.`,
  }),
  'quote-misplaced': () => ({
    words: say`A quotation mark stands in the middle of a cell.`,
    remedy: say`Put the whole cell in quotation marks and write the inner mark twice, or leave the mark out.`,
  }),
  'no-rows': () => ({
    words: say`There are headings but no rows.`,
    remedy: say`Add a line for each row below the headings.`,
  }),
  'column-missing': ({ column, found }) => ({
    words: say`No column is headed ${column}.`,
    remedy: say`Add one. The headings found are: ${found.join(', ')}.`,
  }),
  'column-twice': ({ column, other }) => ({
    words: say`Two columns both give the ${column}; the other is headed ${other}.`,
    remedy: say`Rename or remove one of the two.`,
  }),
  'column-unit-unknown': ({ unit, known }) => ({
    words: say`The heading names a unit that is not known here: ${unit}.`,
    remedy: say`Use one of: ${known.join(', ')}.`,
  }),
  'cells-too-many': ({ cells, columns }) => ({
    words: say`The row has ${cells} cells under ${columns} headings.`,
    remedy: say`Put a cell that holds the separator in quotation marks, or remove the extra cells.`,
  }),
  ...ARCHIVE_WORDS,
  'mesh-too-large': ({ megabytes, most }) => ({
    words: say`The file has ${megabytes}; more than ${most} is not read.`,
    remedy: say`Save it from CAD with coarser triangles, or one part to a file.`,
  }),
  'mesh-empty': () => ({
    words: say`The file is empty.`,
    remedy: say`Save the part from CAD once more, as STL or OBJ.`,
  }),
  'mesh-not-known': () => ({
    words: say`This is neither an STL nor an OBJ file, whatever its name.`,
    remedy: say`Save the part from CAD as STL, binary or text, or as OBJ.`,
  }),
  'mesh-cut-short': ({ triangles, expected, found }) => ({
    words: say`By its own count of ${showFixed(triangles, 0)} triangles this STL file should have ${showFixed(expected, 0)} bytes; it has ${showFixed(found, 0)}.`,
    remedy: say`It was cut off or damaged on its way: save or copy it once more.`,
  }),
  'mesh-ends-early': () => ({
    words: say`The file ends in the middle, before “endsolid”.`,
    remedy: say`It was cut off on its way: save or copy it once more.`,
  }),
  'mesh-line-unreadable': ({ line, text }) => ({
    words: say`Line ${showFixed(line, 0)} cannot be read: ${quoted(text)}.`,
    remedy: say`Numbers need a decimal point, and a face its corners. Save the part from CAD once more, as STL or OBJ.`,
  }),
  'mesh-not-finite': ({ where }) => ({
    words: say`A corner is nowhere, at ${where}: its place is not a number.`,
    remedy: say`Repair the part in CAD, and save it once more.`,
  }),
  'mesh-no-such-vertex': ({ line, vertex, vertices }) => ({
    words: say`Line ${showFixed(line, 0)} names vertex ${showFixed(vertex, 0)}, and there are ${showFixed(vertices, 0)}, counted from 1.`,
    remedy: say`The file was cut off or damaged: save it from CAD once more.`,
  }),
  'mesh-without-triangles': () => ({
    words: say`There are no triangles in the file.`,
    remedy: say`Choose the part in CAD before it is saved, surfaces and not only lines.`,
  }),
  'mesh-too-far': ({ metres, most }) => ({
    words: say`In this unit the part would reach ${metres} from its zero; ${most} is the most.`,
    remedy: say`Check the unit that the part is drawn in, and where its zero is.`,
  }),
  'mesh-without-area': () => ({
    words: say`All triangles of the file are lines or points, without an area.`,
    remedy: say`Check the part in CAD, and how finely it is saved.`,
  }),
  'solid-open': ({ edges }) => ({
    words: say`It is not closed: ${edges === 1 ? say`one edge has` : say`${showFixed(edges, 0)} edges have`} a triangle missing or too many, so it has no inside and no volume.`,
    remedy: say`Close it in CAD, or measure it as a shell.`,
  }),
  'solid-turned-over': ({ edges }) => ({
    words: say`Some triangles face inwards and others outwards, along ${edges === 1 ? say`one edge` : say`${showFixed(edges, 0)} edges`}: its volume cannot be told.`,
    remedy: say`Turn the faces all one way in CAD, or measure it as a shell.`,
  }),
  'solid-without-volume': () => ({
    words: say`It is closed and yet encloses nothing: its faces lie on each other.`,
    remedy: say`Check the part in CAD, or measure it as a shell; both faces would count then.`,
  }),
  'axes-along-one-line': ({ line }) => ({
    words: say`Two axes of the part point ${line}.`,
    remedy: say`Let one point aft or forward, one right or left, one up or down.`,
  }),
  'axes-mirror-the-part': () => ({
    words: say`Pointing so, the axes would make the part its own mirror image.`,
    remedy: say`Turn one of them round, or say that the part is the mirror image of its drawing.`,
  }),
  'axes-do-not-mirror': () => ({
    words: say`The part is said to be the mirror image of its drawing, and pointing so, the axes do not mirror it.`,
    remedy: say`Turn one of them round: that to the right or left for the part of the other side. Or say that it is as drawn.`,
  }),
  'number-too-long': ({ text, most }) => ({
    words: say`${quoted(text)} is longer than a number with its unit needs to be.`,
    remedy: say`Write it in ${most} characters or fewer.`,
  }),
  'not-a-number': ({ text }) => ({
    words: say`${quoted(text)} is not a number.`,
    remedy: say`Write plain digits with a point or a comma for decimals and no thousands separator, for example 1.25 kg.`,
  }),
  'ambiguous-comma': ({ text }) => ({
    words: say`${quoted(text)} can be read two ways: a little over one, or over a thousand.`,
    remedy: say`Write 1.234 or 1234.`,
  }),
  'unit-missing': ({ text, known }) => ({
    words: say`${quoted(text)} has no unit.`,
    remedy: say`Add one behind the number: ${known.join(', ')}. In a list it may stand in the heading, or in a column of its own.`,
  }),
  'unit-unknown': ({ text, unit, known }) => ({
    words: say`${quoted(unit)} in ${quoted(text)} is not a unit that is known here.`,
    remedy: say`Use one of: ${known.join(', ')}.`,
  }),
  'out-of-range': ({ text, least, most }) => ({
    words: say`${quoted(text)} lies outside what is possible here.`,
    remedy: say`Give a value from ${least} to ${most}.`,
  }),
  'ambiguous-share': ({ text }) => ({
    words: say`${quoted(text)} can be read as a fraction or as a per cent.`,
    remedy: say`Write the per cent sign: 24 %.`,
  }),
  ...SCALE_LINE_WORDS,
  'cell-error': ({ text }) => ({
    words: say`The spreadsheet has an error here (${text}) and no value.`,
    remedy: say`Put the formula right and bring the file again, or type what the cell should say.`,
  }),
  'cell-without-result': () => ({
    words: say`The spreadsheet has a formula here whose result is not in the file.`,
    remedy: say`Open the file in the spreadsheet, save it and bring it again, or type what the cell should say.`,
  }),
  'cell-is-date': ({ text }) => ({
    words: say`The spreadsheet holds a date here (${text}); perhaps it made one of something that looked like a date.`,
    remedy: say`Type what the cell should say.`,
  }),
  'cell-merged': () => ({
    words: say`In the spreadsheet this cell is merged with another, which alone holds the value.`,
    remedy: say`Unmerge the cells and bring the file again, or type what holds for this row.`,
  }),
  missing: () => ({ words: say`Nothing is given here.`, remedy: say`Fill it in.` }),
  'not-a-count': ({ text, most }) => ({
    words: say`${quoted(text)} is not a whole number that fits here.`,
    remedy: say`Give a whole number from 1 to ${most}.`,
  }),
  'text-refused': ({ why }) => ({ words: say`The text ${why}.`, remedy: say`Change it.` }),
  'not-a-choice': ({ text, choices }) => ({
    words: say`${quoted(text)} is not one of the words used here.`,
    remedy: say`Use one of: ${choices.join(', ')}.`,
  }),
  'not-a-day': ({ text }) => ({
    words: say`${quoted(text)} is not a day of the calendar, or its order is open to doubt.`,
    remedy: say`Write year, month, day: 2026-05-31.`,
  }),
  'not-an-entry': ({ text }) => ({
    words: say`${quoted(text)} is not the number of an entry.`,
    remedy: say`Give the number that stands before the entry in the ledger.`,
  }),
  'not-piece-numbers': ({ text, most }) => ({
    words: say`${quoted(text)} does not name pieces.`,
    remedy: say`Write piece numbers from 1 to ${most}: 3, or 1-4, or 1, 3.`,
  }),
  'field-unknown': ({ known }) => ({
    words: say`This field is not known here.`,
    remedy: say`Leave it out, or use one of: ${known.join(', ')}.`,
  }),
  'shape-refused': ({ why }) =>
    why.startsWith('must ')
      ? { words: say`It ${why}.`, remedy: say`Change it.` }
      : { words: say`This cannot be taken: ${why}.`, remedy: say`Change it as said.` },
  negative: ({ what }) => ({ words: say`The ${what} is below zero.`, remedy: say`Give 0 or more.` }),
  'estimate-missing': ({ because }) => ({
    words: say`There is no estimate, yet a value is given under ${because}.`,
    remedy: say`Give the estimated mass as well, or leave that value out until there is one.`,
  }),
  'estimate-column-missing': ({ because, unused }) => ({
    words: say`No column is taken for the estimate, yet values are given under ${because}.`,
    remedy:
      unused.length === 0
        ? say`Say which column it is, or leave those values out.`
        : say`Say which column it is. Not used, and it looks like it: ${unused.join(', ')}.`,
  }),
  'line-of-sums': ({ word }) => ({
    words: say`This looks like a line of sums: ${quoted(word)}.`,
    remedy: say`Leave the line out: with ✕ beside its number, or by deleting it in the file.`,
  }),
  'later-above-estimate': ({ later, estimate }) => ({
    words: say`What goes on later (${later}) is more than the installed estimate (${estimate}).`,
    remedy: say`The estimate is the installed mass and includes what goes on later: raise it, or lower the later mass.`,
  }),
  'gross-not-above-tare': ({ gross, tare }) => ({
    words: say`The gross (${gross}) is not above the tare (${tare}), so no mass is left.`,
    remedy: say`Check the two readings; they may be swapped.`,
  }),
  'readings-differ': ({ gross, tare }) => ({
    words: say`The readings do not pair off: gross ${gross}, tare ${tare}.`,
    remedy: say`Give one tare for all, or one for each gross reading.`,
  }),
  'pieces-disagree': ({ named, count }) => ({
    words: say`The pieces do not agree: named ${named}, counted ${count}.`,
    remedy: say`Make the two agree, or give only one of them.`,
  }),
  'which-piece': ({ part, quantity }) => ({
    words: say`Part ${part} has ${quantity} pieces, and it is not said which stood on the scale.`,
    remedy: say`Name the piece (1 to ${quantity}), or give ${quantity} under pieces if all stood there together.`,
  }),
  'no-such-piece': ({ piece, part, quantity }) => ({
    words: say`Part ${part} has ${quantity === 1 ? say`one piece` : say`${quantity} pieces`}, so there is no piece ${piece}.`,
    remedy: say`Check the piece and the part number; correct the part if its quantity is wrong.`,
  }),
  'finish-above-later': ({ finish, later }) => ({
    words: say`The finish (${finish}) is more than what goes on later (${later}).`,
    remedy: say`The finish is a part of what goes on later: raise the one, or lower the other.`,
  }),
  'arm-missing': () => ({ words: say`No arm is given.`, remedy: say`Give at least one of x, y and z.` }),
  'arm-stated-twice': () => ({
    words: say`A station is given, and what it follows from as well: loads on two supports, or a balance point.`,
    remedy: say`Leave out x and its uncertainty: they follow. Or leave out the loads or the balance point.`,
  }),
  'arm-ways-mixed': ({ how }) => ({
    words: say`The arm is said to be measured ${how}, and this belongs to another way.`,
    remedy: say`Leave this out, or say how it was measured.`,
  }),
  'by-hand-without-uncertainty': () => ({
    words: say`An arm found by hand is only as good as the hand: its uncertainty is missing.`,
    remedy: say`Give the station’s uncertainty: how far it may well be off, as a length.`,
  }),
  'arm-disagrees': () => ({
    words: say`The arm is not the one that follows from how it was measured.`,
    remedy: say`Leave the arm out: it follows from the loads or the balance point.`,
  }),
  'station-from-geometry': ({ station }) => ({
    words: say`The station ${station} comes from the part's geometry, and is given as well.`,
    remedy: say`Leave it out, or leave the geometry out.`,
  }),
  'geometry-disagrees': () => ({
    words: say`The stations are not those of the geometry that comes with them.`,
    remedy: say`Leave the stations out: they follow from the geometry.`,
  }),
  'supports-at-one-place': () => ({
    words: say`The supports stand at the same station.`,
    remedy: say`Check their stations; supports must stand apart.`,
  }),
  'supports-bear-nothing': () => ({
    words: say`Nothing rests on the supports.`,
    remedy: say`Check the two loads; their sum must be above zero.`,
  }),
  'supports-too-few': ({ count, least }) => ({
    words: say`${count === 0 ? say`There are no supports` : count === 1 ? say`There is one support` : say`There are ${count} supports`}, and ${least === 2 ? say`two at different stations are the least for a CG` : say`three are the least for y`}.`,
    remedy:
      least === 2 ? say`Add every support that carries a part of the weight.` : say`Add the others, or leave y out.`,
  }),
  'supports-in-line': () => ({
    words: say`Seen from above, the supports stand in one line: y does not follow from them.`,
    remedy: say`Check their stations. The line left and right of the middle counts with a sign: right is positive.`,
  }),
  'support-twice': ({ support }) => ({
    words: say`There are two supports “${support}”.`,
    remedy: say`Give each support a name of its own.`,
  }),
  'support-y-missing': ({ support }) => ({
    words: say`Other supports have a y, and ${quoted(support)} has none.`,
    remedy: say`Give y for every support, 0 for one in the middle, or for none.`,
  }),
  'support-z-missing': ({ support }) => ({
    words: say`A tilted weighing needs the height of what carries, and that of ${quoted(support)} is missing.`,
    remedy: say`Give z of the axle or jack point, or leave the tilted runs out.`,
  }),
  'tilt-too-small': ({ angle }) => ({
    words: say`A tilt of ${angle} is too little to find a height by.`,
    remedy: say`Tilt the aircraft by half a degree at the very least, better by five or more, or leave the tilted runs out.`,
  }),
  'no-run': () => ({
    words: say`Nothing is read from the scales.`,
    remedy: say`Read every support at least once; twice is common practice.`,
  }),
  'all-runs-set-aside': () => ({
    words: say`All runs are set aside, so none counts.`,
    remedy: say`Let one count, or weigh once more.`,
  }),
  'reading-missing': ({ support }) => ({
    words: say`There is no reading for ${quoted(support)}.`,
    remedy: say`Read every support in every run, or remove the run.`,
  }),
  'runs-disagree': ({ apart, limit }) => ({
    words: say`The runs do not agree: they lie ${apart} apart, and ${limit} is allowed.`,
    remedy: say`Weigh once more, and set the run aside that is wrong, with the reason. It stays in the record.`,
  }),
  'sign-twice': ({ text }) => ({
    words: say`${quoted(text)} has a minus and is to be taken off: that can be read two ways.`,
    remedy: say`Leave the minus out.`,
  }),
  'fluid-by-mass': () => ({
    words: say`A fluid is given by volume and density, and here a mass stands beside it.`,
    remedy: say`Leave the mass out, or leave fluid, volume and density out.`,
  }),
  'nothing-left': ({ left }) => ({
    words: say`What is taken off leaves no aircraft: ${left}.`,
    remedy: say`Check the units of what is taken off, and the readings.`,
  }),
  'checklist-open': ({ open }) => ({
    words: say`The checklist is not answered: ${open.join(', ')}.`,
    remedy: say`Answer each with yes, or with no and a word on why.`,
  }),
  'check-without-words': () => ({
    words: say`Something on the checklist was not so, and it is not said what was done instead.`,
    remedy: say`Say it in a few words; it is printed on the report.`,
  }),
  unsigned: () => ({
    words: say`The weighing is not signed.`,
    remedy: say`Give the name of the person who answers for it. Until then it is a draft.`,
  }),
  'signed-before-weighed': ({ signed, weighed }) => ({
    words: say`It would be signed (${signed}) before it was weighed (${weighed}).`,
    remedy: say`Check the two days.`,
  }),
  'not-as-weighed': ({ stated, computed }) => ({
    words: say`The weighing says ${stated}, and its readings come to ${computed}.`,
    remedy: say`Leave the figure out: it follows from the readings.`,
  }),
  'net-disagrees': ({ net, readings }) => ({
    words: say`The net (${net}) is not the mean of the readings (${readings}).`,
    remedy: say`Leave the net out; it follows from gross and tare.`,
  }),
  'days-reversed': ({ from, to }) => ({
    words: say`The calibration would end (${dayWords(to)}) before it begins (${dayWords(from)}).`,
    remedy: say`Check the two days.`,
  }),
  'coverage-missing': () => ({
    words: say`It is not said whether the uncertainty of the calibration is a standard or an expanded one.`,
    remedy: say`Give the coverage factor that the certificate states beside it: 1 or 2. Certificates mostly state k = 2.`,
  }),
  'target-zero': () => ({ words: say`The empty-mass target is zero.`, remedy: say`Give the design empty mass.` }),
  'reserve-too-large': ({ reserve, target }) => ({
    words: say`The reserve (${reserve}) is not below the target (${target}).`,
    remedy: say`The reserve is the part of the target kept back; make it smaller.`,
  }),
  'range-reversed': () => ({
    words: say`The forward end of the CG range does not lie ahead of the aft end.`,
    remedy: say`Stations grow aft: give the smaller one as the forward end.`,
  }),
  'group-twice': ({ group }) => ({ words: say`Group ${group} has two targets.`, remedy: say`Keep one.` }),
  'chord-unknown': () => ({
    words: say`A station in per cent MAC needs the chord, and the aircraft does not state it.`,
    remedy: say`Give the station as a length, or state MAC and its leading edge first.`,
  }),
  'chord-half': () => ({
    words: say`Of the mean aerodynamic chord only one of length and leading edge is given.`,
    remedy: say`Give both, or neither.`,
  }),
  'schedule-empty': () => ({
    words: say`The schedule has no lines.`,
    remedy: say`Give at least one region with one line, or leave the schedule out.`,
  }),
  'region-twice': ({ region }) => ({
    words: say`Two regions are named ${region}.`,
    remedy: say`Give each region a name of its own.`,
  }),
  'material-twice': ({ material }) => ({
    words: say`The material ${material} is described twice.`,
    remedy: say`Keep one description, or give the other a name of its own.`,
  }),
  'material-unknown': ({ material, known }) => ({
    words: say`No material is named ${quoted(material)}.`,
    remedy:
      known.length === 0
        ? say`Describe the material first.`
        : say`Describe it first, or use one of: ${known.join(', ')}.`,
  }),
  'material-unfit': ({ material, is, wanted }) => ({
    words: say`${quoted(material)} is of the kind ${is}, and what is needed here is ${wanted}.`,
    remedy: say`Choose another material, or another kind of line.`,
  }),
  'resin-missing': () => ({
    words: say`Plies or kerfs are to be filled with resin, and it is not said with which or with how much.`,
    remedy: say`Name the resin and give the fibre fraction by mass or by volume.`,
  }),
  'fraction-twice': () => ({
    words: say`The fibre fraction is given by mass and by volume.`,
    remedy: say`Give one of the two: the other follows from the densities.`,
  }),
  'fraction-impossible': ({ text }) => ({
    words: say`A fibre fraction of ${quoted(text)} leaves no fibre or no resin.`,
    remedy: say`Give a share between 0 % and 100 %, both left out, for example 55 %.`,
  }),
  'band-reversed': ({ low, high }) => ({
    words: say`The lower end of the usual fibre fraction (${low}) is not below the upper end (${high}).`,
    remedy: say`Both are fibre by mass: give the smaller one as the lower end.`,
  }),
  'perimeter-missing': () => ({
    words: say`The core has a bevel, and the length around it is not given.`,
    remedy: say`Give the perimeter of the core or of its region.`,
  }),
  'perimeter-too-short': ({ perimeter, least }) => ({
    words: say`The perimeter (${perimeter}) is too short to go around this area; it needs ${least} or more.`,
    remedy: say`Check area, perimeter and outline.`,
  }),
  'bevel-too-large': ({ inset, room }) => ({
    words: say`The bevel runs inwards by ${inset}, and from each edge there is room for ${room} only.`,
    remedy: say`Check the angle (it is measured from the plane of the panel), the thickness and the size of the core.`,
  }),
  'kerfs-above-core': ({ kerfs, core }) => ({
    words: say`The kerfs (${kerfs}) are more than the core (${core}).`,
    remedy: say`Check their length, width and depth.`,
  }),
  'resin-not-in-part': ({ mixed, behind }) => ({
    words: say`Of the resin that was mixed (${mixed}) nothing is left for the part: ${behind} stayed behind.`,
    remedy: say`Check the three figures; they are for everything that is on the scale.`,
  }),
  'tank-arm-twice': () => ({
    words: say`The tank has one station, and a table of stations by quantity as well.`,
    remedy: say`Leave one of the two out.`,
  }),
  'laid-up-is-stated': () => ({
    words: say`This follows from the lay-up schedule and is given beside it.`,
    remedy: say`Leave it out, or leave the schedule out. The evidence of a schedule is “calculated”.`,
  }),
  'not-as-laid-up': ({ stated, computed }) => ({
    words: say`The estimate says ${stated}, and its lay-up schedule comes to ${computed}.`,
    remedy: say`Leave the figure out: it follows from the schedule.`,
  }),
  ...LOADING_WORDS,
  'above-capacity': ({ gross, scale, capacity }) => ({
    words: say`The gross (${gross}) is above the capacity of scale ${scale} (${capacity}).`,
    remedy: say`Check the reading and the scale; weigh on a larger one if it is right.`,
  }),
  'is-an-assembly': ({ part, count }) => ({
    words: say`${part} is an assembly of ${count === 1 ? say`one part` : say`${count} parts`}, and it is not said which were in it on the scale.`,
    remedy: say`Record it as an assembly weighing and name the parts that are not yet in it; in a list, give a column “not yet in” and write “none” where all are.`,
  }),
  'has-no-parts': ({ part }) => ({
    words: say`${part} has no parts of its own and so is no assembly.`,
    remedy: say`Record it as a weighing, or first say which parts belong to it.`,
  }),
  'assembly-of-many': ({ part, quantity }) => ({
    words: say`Assembly ${part} is there ${quantity} times, and it cannot be told which parts are in which.`,
    remedy: say`Give each of them a part number of its own.`,
  }),
  'not-in-assembly': ({ part, assembly }) => ({
    words: say`Part ${part} does not belong to assembly ${assembly}.`,
    remedy: say`Check the number, or correct the assembly of the part.`,
  }),
  'in-without-its-assembly': ({ part, assembly }) => ({
    words: say`Part ${part} is said to be in it, but ${assembly}, to which it belongs, is not.`,
    remedy: say`Put ${assembly} in as well, or leave ${part} out.`,
  }),
  'nothing-in-it': ({ assembly }) => ({
    words: say`No part is left in assembly ${assembly}.`,
    remedy: say`Name as not yet in it only the parts that were not on the scale.`,
  }),
  'not-of-assembly': ({ what }) => ({
    words: say`A weighed assembly has no ${what} of its own.`,
    remedy: say`Leave the cell empty; what should be kept goes into the note.`,
  }),
  'not-weighed': ({ part, piece }) => ({
    words: say`Piece ${piece} of part ${part}, the one there was on that day, had not been weighed: there is nothing to decide on.`,
    remedy: say`Weigh it first, or check the day, the piece and the part number.`,
  }),
  'no-such-release': ({ process, seq }) => ({
    words: say`Entry ${seq} is not the release of a ${process} part: the first weighing of a piece that had an estimate.`,
    remedy: say`Give the number of the weighing at which the process was seen to change.`,
  }),
  'not-called': ({ process }) => ({
    words: say`The process ${process} is in line: neither of its charts has called it.`,
    remedy: say`To state a cause all the same, give the number of the weighing that it is about as the release.`,
  }),
  'adds-up-to-nothing': ({ by, name }) => ({
    words: say`The parts of the ${by} ${name} that are each in line do not add up to a finding.`,
    remedy: say`Nothing has to be explained there. Look under “Many small ones” for the sums that are findings, and give one of their names.`,
  }),
  'process-and-sum': () => ({
    words: say`A process with its release and a sum of small differences are both given; an entry explains one of them.`,
    remedy: say`Leave out process and release to explain the sum, or sum of and name to explain the change of the process.`,
  }),
  'inspection-missing': ({ part, difference }) => ({
    words: say`Part ${part} is light (${difference}) and would be accepted without a word of inspection.`,
    remedy: say`Inspect it before use and say what was found: a light part can be a weak part.`,
  }),
  'unknown-part': ({ part, near }) => ({
    words: say`No part has the number ${part}.`,
    remedy:
      near === undefined
        ? say`Check the number, or add the part first.${part.includes(',') ? say` Several numbers are set apart by semicolons.` : ''}`
        : say`Check the number: is it ${near}? Or add the part first.`,
  }),
  'part-is-removed': ({ part }) => ({
    words: say`Part ${part} has been removed from the aircraft.`,
    remedy: say`Check the number, or correct the removal first.`,
  }),
  'change-of-no-part': ({ at }) => ({
    words: say`Change ${at + 1} is of a part that is not on the aircraft.`,
    remedy: say`Choose a part that is there, or add one.`,
  }),
  'change-takes-too-much': ({ at, part, hasKg, units: { mass } = SI_UNITS }) => ({
    words: say`Change ${at + 1} takes more off ${part} than it has: ${showMass(hasKg, mass)} ${mass}.`,
    remedy: say`Take less off, or remove the part.`,
  }),
  'change-moves-no-station': ({ at, part }) => ({
    words: say`Change ${at + 1} moves ${part}, which has no station to be moved from.`,
    remedy: say`Say where it is to be instead.`,
  }),
  'ballast-on-wrong-side': ({ stationM, toM, way, units: { length } = SI_UNITS }) => ({
    words: say`Ballast at ${showLength(stationM, length)} ${length} cannot bring the CG ${way} to ${showLength(toM, length)} ${length}.`,
    remedy: say`Choose a station ${way} of that.`,
  }),
  'cg-range-missing': () => ({
    words: say`The targets have no CG range, so nothing says how far the CG is to be brought.`,
    remedy: say`Let a lead set the range in the targets.`,
  }),
  'cg-missing': () => ({
    words: say`The aircraft has no CG yet: nothing in it has a mass and a station.`,
    remedy: say`Estimate a part, with its station.`,
  }),
  'limits-missing': () => ({
    words: say`No loading limits are stated yet, so nothing says what would be inside.`,
    remedy: say`Let a lead state them on Loading.`,
  }),
  'proposal-says-nothing': () => ({
    words: say`The proposal has neither changes nor a saving.`,
    remedy: say`Say what it is expected to save, or keep it with the changes that save it.`,
  }),
  'saving-stated-twice': () => ({
    words: say`The saving of this proposal follows from its changes.`,
    remedy: say`Leave the saving out.`,
  }),
  'proposal-id-reused': () => ({
    words: say`Something else about a proposal has been kept under this id.`,
    remedy: say`Give this one an id of its own.`,
  }),
  'proposal-moved-on': ({ revision, by }) => ({
    words: say`${by} has changed this proposal in the meantime; it is at revision ${revision}.`,
    remedy: say`Look at it as it is now, then change it.`,
  }),
  'brief-id-reused': () => ({
    words: say`Another brief, or something else about one, has been kept under this id.`,
    remedy: say`Give this one an id of its own.`,
  }),
  'brief-closed': ({ state, by }) => ({
    words: say`${by} has ${state} this brief; it stays as it is.`,
    remedy: say`Say it in the next brief.`,
  }),
  'brief-moved-on': ({ by }) => ({
    words:
      by === ''
        ? say`Nothing has been said of this brief yet that could have been seen.`
        : say`${by} has written in this brief in the meantime.`,
    remedy: say`Look at it as it is now, then say it again.`,
  }),
  'file-taken': ({ file }) => ({
    words: say`${file} is there already.`,
    remedy: say`Name another file, or move that one away: nothing is written over.`,
  }),
  'file-not-written': ({ file, why }) => ({
    words: say`${file} cannot be written (${why}).`,
    remedy: say`Check that its folder is there, that you may write in it, and that the disk has room.`,
  }),
  'brief-unknown': ({ text, known }) => ({
    words: text === '' ? say`There is no brief yet.` : say`There is no brief ${text}.`,
    remedy: known.length === 0 ? say`Make one first.` : say`Name one of: ${known.join(', ')}.`,
  }),
  'weighing-is-signed': () => ({
    words: say`This weighing has been signed, and can no longer be written in.`,
    remedy: say`Read it below. A wrong figure is put right by correcting it; another weighing is begun anew.`,
  }),
  'weighing-draft-gone': () => ({
    words: say`This weighing is no longer there: somebody has signed it or given it up.`,
    remedy: say`Look at the list of weighings, or begin anew.`,
  }),
  'part-has-entries': ({ part, count }) => ({
    words: say`Part ${part} has ${count === 1 ? say`an entry` : say`${count} entries`} of its own and cannot be struck out as never added.`,
    remedy: say`Record that the part is removed instead.`,
  }),
  'number-twice': ({ number, firstLine }) => ({
    words: say`Part number ${number} stands in line ${firstLine} already.`,
    remedy: say`One part is one row: give it a quantity, or another number.`,
  }),
  'number-taken': ({ number, seq, differs }) => ({
    words: say`Part ${number} is in the ledger already (entry ${seq}), with another ${differs.join(', ')}.`,
    remedy: say`If its estimate has changed, say that changed estimates are revisions; to change anything else correct that entry.`,
  }),
  'row-twice': ({ firstLine }) => ({
    words: say`The row says the same as line ${firstLine}.`,
    remedy: say`Remove one; if both were really weighed, give them different notes.`,
  }),
  'unknown-assembly': ({ assembly, near }) => ({
    words: say`The assembly ${assembly} is not the number of a part.`,
    remedy:
      near === undefined
        ? say`Add a row for it; its estimate may be left empty.`
        : say`Is it ${near}? Else add a row for it; its estimate may be left empty.`,
  }),
  'assembly-cycle': ({ path }) => ({
    words: say`The assembly would contain itself: ${path.join(' in ')}.`,
    remedy: say`Take one of these out of the other.`,
  }),
  'day-in-future': ({ day, today }) => ({
    words: say`The day ${dayWords(day)} has not come yet (today is ${dayWords(today)}).`,
    remedy: say`Give the day on which it happened.`,
  }),
  'reason-missing': () => ({
    words: say`These figures have been set before, and this revision gives no reason.`,
    remedy: say`Say why they change.`,
  }),
  'nothing-to-correct': () => ({
    words: say`The entry to be corrected is not in this ledger.`,
    remedy: say`Check its number or id.`,
  }),
  'already-corrected': ({ bySeq }) => ({
    words: say`That entry has been corrected already, by entry ${bySeq}.`,
    remedy: say`Correct entry ${bySeq} instead.`,
  }),
  'correction-of-other-kind': ({ is, asked }) => ({
    words: say`The entry is of the kind "${is}" and cannot become one of the kind "${asked}".`,
    remedy: say`Strike it out with an empty replacement, and record the other as an entry of its own.`,
  }),
  'correction-changes-nothing': () => ({
    words: say`The correction says what the entry says already.`,
    remedy: say`Change something, or leave the entry as it is.`,
  }),
  'entry-id-reused': ({ seq, fields }) => ({
    words: say`The id belongs to entry ${seq} already, which differs in: ${fields.join(', ')}.`,
    remedy: say`Give the new entry an id of its own; to change the old one, correct it.`,
  }),
  'aircraft-unknown': ({ name, known }) => ({
    words: name === '' ? say`It is not said which aircraft is meant.` : say`No aircraft here is named ${name}.`,
    remedy:
      known.length === 0 ? say`There is none yet: import a parts file first.` : say`Name one of: ${known.join(', ')}.`,
  }),
  'aircraft-name-taken': ({ name }) => ({
    words: say`An aircraft named ${name} is here already.`,
    remedy: say`Choose another name, or add to the one that is here.`,
  }),
  'no-such-entry': ({ seq, last }) => ({
    words: say`There is no entry ${seq} yet; the last is ${last}.`,
    remedy: say`Give the number of an entry that is there.`,
  }),
  'period-reversed': ({ from, to }) => ({
    words: say`What came after ${from} and up to ${to} is nothing: the beginning lies after the end.`,
    remedy: say`Give the earlier one first.`,
  }),
  'folder-missing': ({ folder }) => ({
    words: say`There is no data folder ${folder}.`,
    remedy: say`Name the right one with --data, or import a parts list to begin a new one.`,
  }),
  'nothing-to-import': () => ({
    words: say`No file is given.`,
    remedy: say`Give at least one list: parts, targets or weighings. To begin an aircraft without a list, say where its datum is.`,
  }),
  ...CHECKPOINT_WORDS,
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
