/** The labels on their paper, as they are printed: sheets with several on each, or a roll with one a page. */

import { type ReactNode, useEffect } from 'react';
import { A4_MM, onSheets, type Roll, type Sheet } from '#shared/label/sheet.ts';
import { say } from '#shared/words/say.ts';
import { type Label, PartLabel, type Printed } from './part-label.tsx';

export type Paper =
  | { readonly is: 'sheet'; readonly sheet: Sheet; readonly first: number }
  | { readonly is: 'roll'; readonly roll: Roll };

export function PrintedLabels(props: {
  readonly labels: readonly Label[];
  readonly paper: Paper;
  readonly printed: Printed;
}) {
  const { labels, paper, printed } = props;
  const page = paper.is === 'sheet' ? A4_MM : { width: paper.roll.widthMm, height: paper.roll.heightMm };
  usePageSize(page);
  const one = (label: Label) => <PartLabel label={label} printed={printed} />;
  const keyOf = ({ part, piece }: Label) => `${part.partId} ${piece ?? ''}`;
  if (paper.is === 'roll') {
    const { widthMm, heightMm } = paper.roll;
    return labels.map((label) => (
      <Page key={keyOf(label)} {...page}>
        <div className="part-label" style={{ width: `${widthMm}mm`, height: `${heightMm}mm`, left: 0, top: 0 }}>
          {one(label)}
        </div>
      </Page>
    ));
  }
  const { sheet, first } = paper;
  return onSheets(labels, sheet, first).map((placed, at) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: a sheet is nothing but its place.
    <Page key={at} {...page}>
      {placed.map(({ label, at: { leftMm, topMm } }) => (
        <div
          key={keyOf(label)}
          className="part-label"
          style={{
            width: `${sheet.widthMm}mm`,
            height: `${sheet.heightMm}mm`,
            left: `${leftMm}mm`,
            top: `${topMm}mm`,
          }}
        >
          {one(label)}
        </div>
      ))}
    </Page>
  ));
}

type Size = { readonly width: number; readonly height: number };

function Page({ width, height, children }: Size & { readonly children: ReactNode }) {
  return (
    <div className="label-page" style={{ width: `${width}mm`, height: `${height}mm` }}>
      {children}
    </div>
  );
}

/** The size of a printed page has no place in an element's own style. A sheet made here needs no leave of the content policy. */
function usePageSize({ width, height }: Size): void {
  useEffect(() => {
    const style = new CSSStyleSheet();
    style.replaceSync(say`@page { size: ${width}mm ${height}mm; margin: 0 }`);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, style];
    return () => {
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== style);
    };
  }, [width, height]);
}
