/** What every page says about its figures, whoever reads it. */
import type { ReactNode } from 'react';

export function Cautions({ children }: { readonly children?: ReactNode }) {
  return (
    <footer className="cautions">
      <p>
        Predicted figures are planning figures, not approved data: no flight on them. The completed aircraft is weighed
        on calibrated scales by the rules of the local authority, and its report is signed by someone licensed or
        authorised to. Follow the shop’s lifting and jacking practice. A light part can be a weak part.
      </p>
      {children === undefined ? null : <div className="no-print keys-foot">{children}</div>}
    </footer>
  );
}
