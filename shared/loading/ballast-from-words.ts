/** Where ballast could be, as it is typed (rule C4): each place with its station and the most it can carry, and what is to come inside. */
import type { SentBallastPlace, SentLoadingBallast } from '#shared/contract/loading.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import type { Loading } from './all-loadings.ts';
import type { BallastStation } from './ballast.ts';
import type { BallastQuestion } from './ballast-report.ts';
import { stationKey } from './limits.ts';

/** The question and the loading that it is about, or every problem found. Without limits there is nothing to ask. */
export function ballastFromWords(
  { places, aim }: SentLoadingBallast,
  loading: Loading | undefined,
): Result<BallastQuestion & { readonly loading: Loading }, readonly PathProblem[]> {
  if (loading === undefined) return refuse([{ path: [], refusal: { code: 'limits-missing' } }]);
  const problems: PathProblem[] = [];
  const read = places.map((place, at) =>
    placeFromWords(place, at, { isAcross: loading.limits.lateral !== undefined, problems }),
  );
  if (places.length === 0) problems.push({ path: ['places', '0', 'x'], refusal: { code: 'missing' } });
  const { cases } = loading.limits;
  const wanted = aim === undefined ? undefined : cases.find(({ name }) => stationKey(name) === stationKey(aim));
  if (aim !== undefined && wanted === undefined)
    problems.push({
      path: ['aim'],
      refusal: { code: 'not-a-choice', text: aim, choices: cases.map(({ name }) => name) },
    });
  if (problems.length > 0) return refuse(problems);
  return accept({ loading, places: read.flatMap((place) => place ?? []), aim: wanted ?? 'every loading' });
}

/** Where the limits have a range of butt lines, a place without one lies in the middle. */
function placeFromWords(
  place: SentBallastPlace,
  at: number,
  { isAcross, problems }: { readonly isAcross: boolean; readonly problems: PathProblem[] },
): BallastStation | undefined {
  const reader = new FieldReader(place);
  reader.need('x');
  const name = reader.text('name', 80) ?? `place ${at + 1}`;
  const xM = reader.length('x')?.si;
  const yM = reader.length('y')?.si ?? (isAcross ? 0 : undefined);
  const mostKg = reader.mass('most')?.si;
  for (const { field, refusal } of reader.problems) problems.push({ path: ['places', String(at), field], refusal });
  return xM === undefined ? undefined : { name, xM, yM, mostKg };
}
