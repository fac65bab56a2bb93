/** Light or dark: as the device has it, unless somebody chose. The choice stays on the device. */

import { useLayoutEffect, useState } from 'react';
import { useIsPrinting } from '../pieces/printing.ts';

export const THEMES = ['as device', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

const KEY = 'tarebook theme';

export function useTheme(): readonly [Theme, (theme: Theme) => void] {
  const [theme, setTheme] = useState<Theme>(storedTheme);
  const isPrinting = useIsPrinting();
  // Before the page is laid out: on paper everything is dark on light.
  useLayoutEffect(() => {
    localStorage.setItem(KEY, theme);
    const device = matchMedia('(prefers-color-scheme: dark)');
    const apply = () => {
      // As it is stored, not as this hook last had it: the app and the account dialog both hold one.
      const stored = storedTheme();
      const dark = !isPrinting && (stored === 'dark' || (stored === 'as device' && device.matches));
      document.documentElement.dataset['theme'] = dark ? 'dark' : 'light';
      window.dispatchEvent(new Event('tarebook-theme'));
    };
    apply();
    device.addEventListener('change', apply);
    return () => device.removeEventListener('change', apply);
  }, [theme, isPrinting]);
  return [theme, setTheme];
}

function storedTheme(): Theme {
  return THEMES.find((one) => one === localStorage.getItem(KEY)) ?? 'as device';
}
