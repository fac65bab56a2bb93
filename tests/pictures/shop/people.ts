/** Invented people of the shop, two of them with a PIN, and one with a name that is long. */
import type { Browser } from 'playwright-core';
import type { Doors } from './doors.ts';

const PASSWORD = 'a long enough password';

export const PEOPLE = [
  { name: 'Kim Crew', initials: 'KC', role: 'crew', pin: '4071' },
  { name: 'Noa Engineer', initials: 'NE', role: 'engineer', pin: '8205' },
  { name: 'Wolfgang-Amadé Überschärfenbürgermeister zu Größenöd', initials: 'WÜG', role: 'viewer', pin: '5936' },
] as const;

export async function addPeople(browser: Browser, doors: Doors): Promise<void> {
  for (const { pin, ...person } of PEOPLE) {
    await doors.post('/people', { ...person, aircraft: 'all', password: PASSWORD });
    const own = await browser.newContext();
    const at = `${doors.address}/api`;
    await own.request.post(`${at}/sign-in`, { data: { name: person.name, password: PASSWORD } });
    await own.request.post(`${at}/pin`, { data: { password: PASSWORD, pin } });
    await own.close();
  }
}
