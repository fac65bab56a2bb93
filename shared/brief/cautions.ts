/** The words that go with every predicted and forecast figure. */
import { say } from '#shared/words/say.ts';

export const CAUTIONS: readonly string[] = [
  say`Predicted and forecast figures are planning figures, not approved data: no flight on them.`,
  say`The completed aircraft is weighed on calibrated scales by the rules of the local authority, and its weight and balance report is signed by someone licensed or authorised to.`,
  say`Lifting and weighing an airframe can injure people: follow the shop’s lifting and jacking practice.`,
  say`A light part can be a weak part.`,
];
