/** Whether this browser is one that several people share, and how one makes room for another. */
import { createContext, useContext } from 'react';

export type SharedTablet = {
  readonly name: string;
  readonly idleMinutes: number;
  readonly byPin: boolean;
  /** Signs out and asks who is next. */
  readonly lock: () => void;
};

export const SharedTabletContext = createContext<SharedTablet | undefined>(undefined);

/** Undefined where the browser is one person's own. */
export function useSharedTablet(): SharedTablet | undefined {
  return useContext(SharedTabletContext);
}
