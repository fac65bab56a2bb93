/** What every page says about its figures, whoever reads it. */

import type { ReactNode } from 'react';
import { CAUTIONS } from '#shared/brief/cautions.ts';

export function Cautions({ children }: { readonly children?: ReactNode }) {
  return (
    <footer className="cautions">
      <p>{CAUTIONS.join(' ')}</p>
      {children === undefined ? null : <div className="no-print keys-foot">{children}</div>}
    </footer>
  );
}
