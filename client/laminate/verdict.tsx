/** The verdict on a laminate in one line: shape, colour and words together; what to do about it below. */
import type { LaminateReport } from '#shared/contract/layup.ts';
import { laminateWords } from '../words/laminate.ts';
import './laminate.css';

export function LaminateVerdict({ laminate }: { readonly laminate: LaminateReport }) {
  const { shape, look, words, advice } = laminateWords(laminate);
  return (
    <div className={`laminate-verdict ${look}`}>
      <p>
        <span aria-hidden="true">{shape} </span>
        <strong>{words}</strong>
      </p>
      {advice === undefined ? null : <p>{advice}</p>}
    </div>
  );
}
