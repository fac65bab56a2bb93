/** Said on Weigh where this device could keep nothing, before somebody relies on it. */
import { useEffect, useState } from 'react';
import { askToPersist, whyNothingIsKept } from '../offline/store.ts';
import { NOTHING_KEPT } from '../words/offline.ts';

export function StoreNotice() {
  const [why, setWhy] = useState<'full' | 'forbidden'>();
  useEffect(() => {
    void askToPersist();
    void whyNothingIsKept().then(setWhy);
  }, []);
  if (why === undefined) return null;
  return (
    <p className="notice bad" role="alert">
      {NOTHING_KEPT[why]}
    </p>
  );
}
