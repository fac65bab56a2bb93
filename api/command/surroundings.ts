/** What a command may touch of the process around it, so that tests can give it others. */
export type Surroundings = {
  readonly out: { write(text: string): unknown };
  readonly err: { write(text: string): unknown; readonly isTTY?: boolean };
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly now: () => Date;
  readonly user: () => string;
};

/** Rule K1. */
export const EXIT = { done: 0, drift: 1, badInput: 2, broken: 3 } as const;
export type Exit = (typeof EXIT)[keyof typeof EXIT];

/** The shop's day where the command runs, YYYY-MM-DD. */
export function shopDay(now: Date): string {
  const two = (part: number) => String(part).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
