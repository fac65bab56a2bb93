/** Words with elements in them: rich`It is on the list of ${<Link …/>}.` Each keeps its place in the sentence, in any language. */
import { createElement, Fragment, type ReactNode } from 'react';
import { piecesOf } from '#shared/words/say.ts';

export function rich(strings: TemplateStringsArray, ...values: readonly ReactNode[]): ReactNode {
  const pieces = piecesOf(strings).map((piece) => (typeof piece === 'number' ? values[piece] : piece));
  return createElement(Fragment, null, ...pieces);
}
