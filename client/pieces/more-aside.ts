/** Marks a frame that is pushed sideways while there is more to its right: the figures at its edge fade, and are not read as whole ones. */
import { type RefObject, useEffect } from 'react';

export function useMoreAside(frame: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const element = frame.current;
    if (element === null) return;
    const look = () => {
      const asidePx = element.scrollWidth - element.clientWidth - element.scrollLeft;
      element.toggleAttribute('data-more', asidePx > 2);
    };
    const watch = new ResizeObserver(look);
    watch.observe(element);
    for (const child of element.children) watch.observe(child);
    element.addEventListener('scroll', look, { passive: true });
    look();
    return () => {
      watch.disconnect();
      element.removeEventListener('scroll', look);
    };
  }, [frame]);
}
