/** A QR code as a drawing. */

import { encodeQR } from 'qr';
import { say } from '#shared/words/say.ts';

/** Modules of quiet ground around it that the standard asks for (ISO/IEC 18004). */
const QUIET = 4;

export function QrCode({ text, label }: { readonly text: string; readonly label: string }) {
  const modules = encodeQR(text, 'raw', { ecc: 'medium', border: QUIET });
  const side = modules.length;
  return (
    <svg
      className="label-code"
      viewBox={`0 0 ${side} ${side}`}
      role="img"
      aria-label={label}
      shapeRendering={say`crispEdges`}
    >
      <path d={pathOf(modules)} fill="black" />
    </svg>
  );
}

/** The dark modules of each row, run by run. */
function pathOf(modules: readonly (readonly boolean[])[]): string {
  let path = '';
  for (const [row, cells] of modules.entries()) {
    for (let from = 0; from < cells.length; from += 1) {
      if (cells[from] !== true) continue;
      let to = from;
      while (cells[to] === true) to += 1;
      path += `M${from} ${row}h${to - from}v1h${from - to}z`;
      from = to;
    }
  }
  return path;
}
