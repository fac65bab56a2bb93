/** A bare number takes the unit that stands in its field; a text that brings its own keeps it (rule W2). */

export function isBareNumber(text: string): boolean {
  return /^[\s\d.,'+\-−/]*(?:\d[eE][+-]?\d+)?\s*$/.test(text);
}

/** `4.12 / 4.13` are two readings, each with its unit. What is no number is left alone, so that the refusal quotes what was typed. */
export function typedWith(text: string, unit: string): string {
  return text
    .split('/')
    .map((one) => one.trim())
    .map((one) => (one !== '' && isBareNumber(one) ? `${one} ${unit}` : one))
    .join(' / ');
}

/** The same number in another unit: `265 kg` as `265 lb`. What is more than one number with its unit is left alone. */
export function inUnit(text: string, unit: string): string {
  const number = text.trim().replace(/[a-z\s]+$/i, '');
  return number !== '' && isBareNumber(number) ? `${number} ${unit}` : text;
}
