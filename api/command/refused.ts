/** The command's way of saying no: problems with their places, as text for people or as JSON for programs. */
import { explain, type Refusal } from '#shared/problem/registry.ts';
import { counted, say } from '#shared/words/say.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';

/** `line` and `column` count from 1; 0 means the file as a whole, or a line as a whole. `pointer` is a JSON Pointer. */
export type PlacedProblem = {
  readonly file?: string | undefined;
  readonly line?: number | undefined;
  readonly column?: number | undefined;
  readonly heading?: string | undefined;
  readonly pointer?: string | undefined;
  readonly refusal: Refusal;
};

/** Thrown where a command cannot go on; the one catcher is `runCommand`. */
export class Refused extends Error {
  readonly problems: readonly PlacedProblem[];

  constructor(problems: readonly PlacedProblem[]) {
    super('the input is refused');
    this.problems = problems;
  }
}

/** Prints every problem and answers the exit status. */
export function printProblems(
  problems: readonly PlacedProblem[],
  surroundings: Surroundings,
  options: { readonly json: boolean },
): Exit {
  if (options.json) {
    const told = problems.map(({ refusal, ...place }) => ({ ...place, code: refusal.code, ...explain(refusal) }));
    surroundings.out.write(`${JSON.stringify({ problems: told }, null, 2)}\n`);
    return EXIT.badInput;
  }
  for (const problem of problems) {
    const { words, remedy } = explain(problem.refusal);
    surroundings.err.write(`${placeOf(problem)}${words} ${remedy}${OPTION_OF[problem.refusal.code] ?? ''}\n`);
  }
  surroundings.err.write(`${say`${counted(problems.length, 'problem', 'problems')}. Nothing has been recorded.`}\n`);
  return EXIT.badInput;
}

/** Where the command says what the remedy asks for. */
const OPTION_OF: Readonly<Partial<Record<Refusal['code'], string>>> = { 'number-taken': say` Revisions: --revise.` };

function placeOf({ file, line = 0, column = 0, heading = '', pointer }: PlacedProblem): string {
  const parts = [
    ...(file === undefined || file === '' ? [] : [file]),
    ...(line > 0 ? [say`line ${line}`] : []),
    ...(column > 0 ? [say`column ${column}${heading === '' ? '' : ` (${heading})`}`] : heading === '' ? [] : [heading]),
    ...(pointer === undefined || pointer === '' ? [] : [pointer]),
  ];
  return parts.length === 0 ? '' : `${parts.join(', ')}: `;
}
