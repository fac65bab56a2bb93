/** Light or dark: as the device has it, unless somebody chose. The choice stays on the device. */
import { useEffect, useState } from 'react';

export const THEMES = ['as device', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

const KEY = 'tarebook theme';

export function useTheme(): readonly [Theme, (theme: Theme) => void] {
  const [theme, setTheme] = useState<Theme>(
    () => THEMES.find((one) => one === localStorage.getItem(KEY)) ?? 'as device',
  );
  useEffect(() => {
    localStorage.setItem(KEY, theme);
    const device = matchMedia('(prefers-color-scheme: dark)');
    const apply = () => {
      const dark = theme === 'dark' || (theme === 'as device' && device.matches);
      document.documentElement.dataset['theme'] = dark ? 'dark' : 'light';
      window.dispatchEvent(new Event('tarebook-theme'));
    };
    apply();
    device.addEventListener('change', apply);
    return () => device.removeEventListener('change', apply);
  }, [theme]);
  return [theme, setTheme];
}
