/** How the scale on the cable talks; kept on this device. */
import { z } from 'zod';

const KEY = 'tarebook scale port';
export const BAUD_RATES = [1200, 2400, 4800, 9600, 19_200, 38_400, 57_600, 115_200] as const;

const Settings = z.object({
  baudRate: z.literal(BAUD_RATES),
  dataBits: z.union([z.literal(7), z.literal(8)]),
  parity: z.enum(['none', 'even', 'odd']),
  decimalComma: z.boolean(),
  byItself: z.boolean(),
});
export type Settings = z.infer<typeof Settings>;

/** Common practice, no source. Nothing is taken by itself unless somebody says so. */
const USUAL: Settings = { baudRate: 9600, dataBits: 8, parity: 'none', decimalComma: false, byItself: false };

export function recallSettings(): Settings {
  try {
    const read = Settings.safeParse(JSON.parse(localStorage.getItem(KEY) ?? 'null'));
    return read.success ? read.data : USUAL;
  } catch {
    return USUAL;
  }
}

export function rememberSettings(settings: Settings): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(settings));
  } catch {
    // They hold until the page is left.
  }
}
