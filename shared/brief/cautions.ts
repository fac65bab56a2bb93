/** The words that go with every predicted and forecast figure. */
export const CAUTIONS: readonly string[] = [
  'Predicted and forecast figures are planning figures, not approved data: no flight on them.',
  'The completed aircraft is weighed on calibrated scales by the rules of the local authority, and its weight and balance report is signed by someone licensed or authorised to.',
  'Lifting and weighing an airframe can injure people: follow the shop’s lifting and jacking practice.',
  'A light part can be a weak part.',
];
