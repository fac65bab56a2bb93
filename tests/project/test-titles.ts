/** Reads the titles of the tests in a test file's text: of `it('…')`, `test('…')` and of their `.each(…)('…')` forms. */

export type Title = { readonly title: string; readonly line: number };

const CALL = /(?<![\w.$])(?:it|test)((?:\.[a-zA-Z]+)*)(?:<[^()]*?>)?\s*(?=[(`])/g;

export function titlesOf(text: string): Title[] {
  const titles: Title[] = [];
  for (const call of text.matchAll(CALL)) {
    let at = call.index + call[0].length;
    if (/\.(?:each|for|skipIf|runIf)$/.test(call[1] ?? '')) at = afterArguments(text, at);
    const title = /^\(\s*(['"`])((?:\\.|(?!\1)[^\\])*)\1/s.exec(text.slice(at))?.[2];
    const line = text.slice(0, call.index).split('\n').length;
    if (title !== undefined) titles.push({ title: title.replace(/\\(['"`])/g, '$1'), line });
  }
  return titles;
}

/** Tests that would not run, or would keep the others from running. */
export function idleTestsOf(text: string): number {
  return [...text.matchAll(/(?<![\w.$])(?:it|test|describe)(?:\.[a-zA-Z]+)*\.(?:skip|only|todo|skipIf|runIf)\b/g)]
    .length;
}

/** The place behind the brackets or the template that begin at `start`; strings inside are passed over. */
function afterArguments(text: string, start: number): number {
  let depth = 0;
  for (let at = start; at < text.length; at += 1) {
    const character = text[at] ?? '';
    if (`'"\``.includes(character)) at = closingQuote(text, at, character);
    else if (character === '/' && text[at + 1] === '/') at = lineEnd(text, at);
    else if (character === '/' && /[(,=:[!&|?{};\s]/.test(text[at - 1] ?? '')) at = closingSlash(text, at);
    else if (character === '(') depth += 1;
    else if (character === ')') depth -= 1;
    if (depth === 0) return at + 1;
  }
  return text.length;
}

function lineEnd(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end;
}

function closingQuote(text: string, opening: number, quote: string): number {
  for (let at = opening + 1; at < text.length; at += 1) {
    if (text[at] === '\\') at += 1;
    else if (text[at] === quote) return at;
  }
  return text.length;
}

/** The end of a regular expression; a lone stroke is a division and ends where it stands. */
function closingSlash(text: string, opening: number): number {
  const expression = /^\/(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n[])+\/[a-z]*/.exec(text.slice(opening));
  return expression === null ? opening : opening + expression[0].length - 1;
}
