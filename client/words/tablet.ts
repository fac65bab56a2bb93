/** What is said where several people share a tablet (rule N15). */
import { counted, say } from '#shared/words/say.ts';

export const TABLET_WORDS = {
  who: say`Who are you?`,
  onTablet: (tablet: string) => say`${tablet} is shared: choose your name and type your PIN.`,
  pinMay: say`With a PIN one weighs and reads, whatever one’s role. For anything more, sign in with the password.`,
  nobody: (tablet: string) =>
    say`${tablet} is shared. Nobody has a PIN yet: sign in with name and password, and set one under your initials at the top right.`,
  pinOf: (name: string) => say`PIN of ${name}`,
  another: say`Another name`,
  withPassword: say`Sign in with name and password`,
  withPin: say`Choose a name`,
  kept: (name: string) => say`Whatever ${name} has typed and not recorded waits for ${name}.`,
  switchPerson: say`Switch person`,
  inByPin: (tablet: string) =>
    say`Signed in with a PIN on ${tablet}: you weigh and read. Sign in with your password for anything more.`,
  locks: (minutes: number) => say`It locks after ${counted(minutes, 'minute', 'minutes')} without a touch.`,
} as const;
