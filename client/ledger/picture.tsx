/**
 * A picture of figures: drawn by chart.js, with a title that says what it shows, its table for those who cannot see it, and ways to save
 * both. Colours come from the look's names and follow it when it changes.
 */

import {
  BarController,
  BarElement,
  CategoryScale,
  type ChartConfiguration,
  Chart as Drawing,
  Filler,
  Legend,
  LinearScale,
  LineController,
  LineElement,
  PointElement,
  Tooltip,
} from 'chart.js';
import { type ReactNode, useEffect, useRef } from 'react';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { withDays } from '../pieces/day.tsx';
import { tied } from '../pieces/units.ts';
import { saveCsv, savePng, saveSvg } from './save-picture.ts';

Drawing.register(
  BarController,
  BarElement,
  CategoryScale,
  LinearScale,
  LineController,
  LineElement,
  PointElement,
  Tooltip,
  Legend,
  Filler,
);

/** A bar that floats has two ends. */
export type BarConfiguration = ChartConfiguration<'bar', [number, number][]>;

/** A picture that is saved on a phone is looked at elsewhere. */
const LEAST_SAVED_PX = 900;

/** A picture on paper is no wider than a card on A4 has room for, so that its words keep their size. */
const PAPER_PX = 660;
/** So high are lines over days on it. */
const PAPER_LINES_PX = 235;
/** Of the dots of a printer, so many for each of the page's. */
const PAPER_SHARPNESS = 3;
const PRINTING = ['beforeprint', 'afterprint'] as const;

export function Picture(props: {
  readonly title: string;
  readonly summary: ReactNode;
  /** What the picture shows, in words, where the summary is none. */
  readonly alternative?: string;
  /** Called anew when the look changes; kept by the caller while the figures stay. */
  readonly configure: () => ChartConfiguration<'line'> | BarConfiguration;
  /** It stands in a card that has a title already. */
  readonly isWithin?: boolean;
  /** Above the picture: what it is of. */
  readonly tools?: ReactNode;
  /** A picture of bars is as high as they need. */
  readonly barCount?: number;
  readonly children: ReactNode;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  // A screen may be shown anew while it is put on paper.
  const isPrinting = useRef(false);
  const { title, configure } = props;
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return undefined;
    const drawn = () =>
      isPrinting.current ? onPaper(element, configure()) : new Drawing(element, configure() as ChartConfiguration);
    let drawing = drawn();
    const redraw = () => {
      drawing.destroy();
      drawing = drawn();
    };
    const print = ({ type }: Event) => {
      isPrinting.current = type === 'beforeprint';
      redraw();
    };
    window.addEventListener('tarebook-theme', redraw);
    for (const event of PRINTING) window.addEventListener(event, print);
    return () => {
      window.removeEventListener('tarebook-theme', redraw);
      for (const event of PRINTING) window.removeEventListener(event, print);
      drawing.destroy();
    };
  }, [configure]);
  const sheet = () => ({
    title,
    summary: words,
    widthPx: Math.max(LEAST_SAVED_PX, canvas.current?.clientWidth ?? 0),
    heightPx: canvas.current?.clientHeight ?? 0,
    configure: () => configure() as ChartConfiguration,
  });
  const words = props.alternative ?? (typeof props.summary === 'string' ? props.summary : '');
  return (
    <figure className={props.isWithin === true ? 'chart' : 'card chart'}>
      <figcaption>
        {props.isWithin === true ? <h3>{title}</h3> : <h2>{title}</h2>}
        <p className="soft small">
          {typeof props.summary === 'string' ? withDays(tied(props.summary)) : props.summary}
        </p>
      </figcaption>
      {props.tools}
      <div
        className="chart-canvas"
        style={props.barCount === undefined ? undefined : { height: `${props.barCount * 2.75 + 4.5}rem` }}
      >
        <canvas ref={canvas} role="img" aria-label={`${title}. ${words}`} />
      </div>
      <div className="row chart-acts no-print">
        <details>
          <summary>{say`As a table`}</summary>
          <div className="scroll-across chart-table" tabIndex={0} role="region" aria-label={say`${title}, as a table`}>
            {props.children}
          </div>
        </details>
        <div className="row" role="group" aria-label={say`Save: ${title}`}>
          <span className="soft small">{say`Save as`}</span>
          <Button slim kind="quiet" aria-label={say`Save as PNG`} onPress={() => savePng(sheet())}>{say`PNG`}</Button>
          <Button slim kind="quiet" aria-label={say`Save as SVG`} onPress={() => saveSvg(sheet())}>{say`SVG`}</Button>
          <Button
            slim
            kind="quiet"
            aria-label={say`Save as CSV`}
            onPress={() => saveCsv(title, tableIn(canvas.current))}
          >{say`CSV`}</Button>
        </div>
      </div>
    </figure>
  );
}

/** One that follows its frame would be drawn anew for the window while the pages are laid out: on paper it keeps its size. */
function onPaper(element: HTMLCanvasElement, config: ReturnType<Parameters<typeof Picture>[0]['configure']>): Drawing {
  const fixed = { ...config.options, responsive: false, devicePixelRatio: PAPER_SHARPNESS };
  const heightPx = config.type === 'line' ? PAPER_LINES_PX : (element.parentElement?.clientHeight ?? 0);
  const drawing = new Drawing(element, { ...config, options: fixed } as ChartConfiguration);
  drawing.resize(PAPER_PX, heightPx);
  return drawing;
}

/** The look's colours and type for a drawing. */
export function inkOf() {
  const colour = (name: string) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  return {
    colour,
    ink: colour('--ink-soft'),
    font: { family: getComputedStyle(document.body).fontFamily, size: 13 },
  };
}

/** The table that stands with a picture. */
function tableIn(canvas: HTMLCanvasElement | null): HTMLTableElement | null {
  return canvas?.closest('figure')?.querySelector('table') ?? null;
}
