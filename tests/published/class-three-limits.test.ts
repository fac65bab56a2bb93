/**
 * Limits of error of a scale of class III: 0.5 e up to 500 e, 1 e up to 2,000 e, 1.5 e up to 10,000 e, and twice that in service.
 * Source: OIML R 76-1, 3.5.1 and 3.5.2 (read in a page that quotes it). The loads are chosen here.
 */
import { expect, it } from 'vitest';
import { serviceLimitKg } from '#shared/weighing/scale-from-words.ts';

it.each([
  { loadKg: 2.5, limitKg: 0.005 }, // 500 e: twice 0.5 e
  { loadKg: 2.505, limitKg: 0.01 }, // 501 e: twice 1 e
  { loadKg: 10, limitKg: 0.01 }, // 2,000 e
  { loadKg: 10.005, limitKg: 0.015 }, // 2,001 e: twice 1.5 e
  { loadKg: 50, limitKg: 0.015 }, // 10,000 e
])('[W12] $loadKg kg on a scale of 5 g may be off by $limitKg kg in service', ({ loadKg, limitKg }) => {
  expect(serviceLimitKg(loadKg, 0.005)).toBeCloseTo(limitKg, 12);
});
