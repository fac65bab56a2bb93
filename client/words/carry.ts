/** What is said where a whole aircraft is carried out and brought in. */
import { say } from '#shared/words/say.ts';

export const CARRY_OUT = say`One ZIP file with a table for each kind of entry, which a spreadsheet program opens, with proposals, briefs and photos, and a list of all files by which any change to them is found. People and their passwords are not in it.`;
export const BRING_IN = say`An aircraft that was carried out of another store comes in as a new one here, with every entry as it was recorded there, or not at all. One that is here already is refused.`;
export const NAME_HINT = say`Only where its own name is taken here.`;
