/** Whether this page is being put on paper. */
import { useEffect, useState } from 'react';
import { flushSync } from 'react-dom';

/** Is true before the browser lays the pages out, and false once they are made. */
export function useIsPrinting(): boolean {
  const [isPrinting, setPrinting] = useState(false);
  useEffect(() => {
    // At once: the browser lays out what stands there when the event ends.
    const begin = () => flushSync(() => setPrinting(true));
    const end = () => setPrinting(false);
    window.addEventListener('beforeprint', begin);
    window.addEventListener('afterprint', end);
    return () => {
      window.removeEventListener('beforeprint', begin);
      window.removeEventListener('afterprint', end);
    };
  }, []);
  return isPrinting;
}
