/** Writes the catalogue of all words, from which a translation is made. */
import { writeFile } from 'node:fs/promises';
import { collectWords } from './collect.ts';

const words = collectWords();
await writeFile(`${import.meta.dirname}/../../shared/words/in/en.json`, `${JSON.stringify(words, null, 2)}\n`);
process.stdout.write(`${Object.keys(words).length} messages in shared/words/in/en.json\n`);
