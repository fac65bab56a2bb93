/** What this machine is called and where the shop's network reaches it, now. */
import { hostname, networkInterfaces } from 'node:os';
import type { Place } from './local-authority.ts';

export function placeOfThisMachine(): Place {
  return { hostName: hostname().toLowerCase(), addresses: networkAddresses() };
}

/** The addresses on which others reach this machine. Link-local ones need a zone that no page address carries. */
export function networkAddresses(): readonly string[] {
  return Object.values(networkInterfaces())
    .flatMap((found) => found ?? [])
    .filter(({ internal, address }) => !internal && !address.startsWith('fe80'))
    .map(({ address }) => address);
}
