/** Leaving a schedule that is typed and not recorded: a link asks first. What is typed stays on the device, so a closed page needs no question. */

import { useEffect, useState } from 'react';
import { useLocation } from 'wouter';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';

export function LeaveDialog(props: {
  readonly isTyped: boolean;
  /** False where the device keeps nothing. */
  readonly isKept: boolean;
  readonly onDrop: () => void;
}) {
  const { isTyped, isKept } = props;
  const [, navigate] = useLocation();
  const [wanted, setWanted] = useState<string>();
  useEffect(() => {
    if (!isTyped) return;
    const onClick = (event: MouseEvent) => {
      const link = event.target instanceof Element ? event.target.closest<HTMLAnchorElement>('a[href]') : null;
      const isOther = event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey;
      if (link === null || isOther || link.target === '_blank' || link.origin !== location.origin) return;
      if (link.pathname === location.pathname) return;
      event.preventDefault();
      event.stopPropagation();
      setWanted(`${link.pathname}${link.search}`);
    };
    const onUnload = (event: BeforeUnloadEvent) => {
      if (!isKept) event.preventDefault();
    };
    document.addEventListener('click', onClick, true);
    window.addEventListener('beforeunload', onUnload);
    return () => {
      document.removeEventListener('click', onClick, true);
      window.removeEventListener('beforeunload', onUnload);
    };
  }, [isTyped, isKept]);
  const stay = () => setWanted(undefined);
  return (
    <Dialog title={say`The lay-up is not recorded`} isOpen={wanted !== undefined} onClose={stay}>
      <p>
        {isKept
          ? say`What you typed stays on this device until it is recorded or dropped. Nobody else sees it, and nothing counts with it.`
          : say`This device keeps nothing: what you typed is lost when you leave.`}
      </p>
      <div className="acts">
        <Button kind="main" autoFocus onPress={stay}>{say`Stay here`}</Button>
        <Button onPress={() => navigate(wanted ?? '/')}>{isKept ? say`Leave, keep it here` : say`Leave`}</Button>
        <Button
          onPress={() => {
            props.onDrop();
            navigate(wanted ?? '/');
          }}
        >{say`Leave and drop it`}</Button>
      </div>
    </Dialog>
  );
}
