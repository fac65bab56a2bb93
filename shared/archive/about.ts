/** What stands in `about.txt` beside the tables: how they are read by a person, and how by a program. */
export const ABOUT_TEXT = `An aircraft, carried out of Tarebook

Each table has the entries of one kind. A table can be opened in a spreadsheet program: CSV with commas, UTF-8.
Do not save it there: a table that was saved anew is not brought in again. What is to be changed is changed in
the ledger, by a correction.

A row begins with the number of the entry, the day it happened and who recorded it. Then it says what was stated
in the words in which it was stated. Then comes the record itself: every field of the entry under its own name,
in kilograms and metres where its name ends so; what is nested (readings, a lay-up, loading limits, what was
typed) stands as JSON in its cell. At the end stand the entry's id, the moment it was recorded, its hash, and
check digits, three for each cell, by which a changed cell is found.

An empty cell is a field that was not stated. An apostrophe before a text keeps a spreadsheet program from working
it out as a formula, and is no part of the text; a text that begins with an apostrophe has two.

The text that was hashed comes back from a row: take the fields of the record, the day as happenedOn, who as by,
remark and id, and the kind of the table as kind; leave out what is empty; write it as canonical JSON (RFC 8785).
The hash is the SHA-256 of aircraft id, entry number, moment of recording, hash of the entry before it and that
text, with a line feed between each two. Before the first entry stands the SHA-256 of "tarebook", a line feed
and the aircraft id.

manifest.json names every file with its SHA-256, and says what the headline comes to.
Predicted figures are planning figures, not approved data. No flight on them.
`;
