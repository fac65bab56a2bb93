/** The words of a brief that are no figures (rules B1-B3): its subjects, its states, and how each situation is marked. */

import type {
  BriefHeadline,
  BriefOwner,
  BriefProcess,
  BriefSubject,
  CgSituation,
  MassSituation,
} from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';

export const SUBJECT_WORDS: Readonly<Record<BriefSubject, string>> = {
  all: say`In general`,
  growth: say`Growth`,
  CG: say`Centre of gravity`,
  bridge: say`What changed, and why`,
  drift: say`What drifts`,
  proposals: say`Proposals`,
  weighed: say`Weighed and open`,
};

export type Mark = 'good' | 'warn' | 'bad';
const SHAPE: Readonly<Record<Mark, string>> = { good: '●', warn: '△', bad: '▲' };

const MASS_MARK: Readonly<Record<MassSituation, Mark>> = {
  'under target': 'good',
  'at risk': 'warn',
  'over target': 'bad',
  'no target': 'warn',
  'not whole yet': 'warn',
  'nothing estimated': 'warn',
};
const CG_MARK: Readonly<Record<CgSituation, Mark>> = {
  'in range': 'good',
  'near its edge': 'warn',
  'out of range': 'bad',
  'no range': 'warn',
  'not known': 'warn',
};

/** Word and shape together. */
export function massMark({ mass }: BriefHeadline): { readonly mark: Mark; readonly word: string } {
  const mark = MASS_MARK[mass];
  return { mark, word: `${SHAPE[mark]} ${mass}` };
}

export function cgMark({ cg }: BriefHeadline): { readonly mark: Mark; readonly word: string } {
  const mark = CG_MARK[cg];
  return { mark, word: `${SHAPE[mark]} ${cg === 'not known' ? say`not known` : cg}` };
}

export const NOBODY = say`nobody yet`;

const OWNER_AS: Readonly<Record<BriefOwner['as'], string>> = {
  proposal: say`has a proposal`,
  decision: say`decided`,
  cause: say`said why`,
};

export function ownerWords(owner: BriefOwner | undefined): string {
  return owner === undefined ? NOBODY : `${owner.name} (${OWNER_AS[owner.as]})`;
}

export function readingWords({ signal }: Pick<BriefProcess, 'signal'>): string {
  const shape = { heavy: '▲ heavy', light: '▼ light', 'allowance to spare': '▽ allowance to spare' } as const;
  return shape[signal.reading];
}

/** What a brief is made from. */
export function periodWords({ fromSeq, toSeq }: { readonly fromSeq: number; readonly toSeq: number }): string {
  return fromSeq === 0
    ? say`entries 1 to ${toSeq}`
    : fromSeq === toSeq
      ? say`entry ${toSeq}`
      : say`entry ${toSeq}, since entry ${fromSeq}`;
}
