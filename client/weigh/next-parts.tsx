/** After a weighing is saved: where the hands go on, each one touch (rule H3). */

import { useMemo } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import { nextAfter } from '#shared/weighing/next-part.ts';
import { say } from '#shared/words/say.ts';
import { nextWords } from '../words/due.ts';
import { type ChoosePart, PartButtons } from './part-buttons.tsx';

export function NextParts(props: {
  readonly after: { readonly partId: string; readonly pieces: readonly number[] } | undefined;
  readonly parts: readonly PartReport[];
  readonly onChoose: ChoosePart;
}) {
  const { after, parts } = props;
  const next = useMemo(() => {
    const part = parts.find(({ partId }) => partId === after?.partId);
    return part === undefined || after === undefined ? [] : nextAfter(part, after.pieces, parts);
  }, [after, parts]);
  return (
    <PartButtons
      title={say`Next on the scale`}
      offered={next.map((one) => ({ part: one.part, piece: one.piece, words: nextWords(one) }))}
      onChoose={props.onChoose}
    />
  );
}
