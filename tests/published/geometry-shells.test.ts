/**
 * Centroids of hollow bodies.
 * Source: J. B. Tatum, Classical Mechanics, chapter 1 (Centers of Mass). Status of each value stands beside it.
 */
import { describe, expect, it } from 'vitest';
import { binaryStl, cone, hemisphere, measured, textStl } from '#tests/shared/geometry/make-mesh.ts';

const HOLLOW_HEMISPHERE = 1 / 2; // of its radius, from its base: read
const SOLID_HEMISPHERE = 3 / 8; // of its radius, from its base: read
const HOLLOW_CONE = 1 / 3; // of its height, from its base: read

describe('hollow bodies', () => {
  it('[E5] the skin of a hemisphere acts at half its radius, and not where the solid one would', () => {
    const { centroid } = measured(textStl(hemisphere(120, 480)));
    expect(Math.abs(centroid.partZM - HOLLOW_HEMISPHERE)).toBeLessThan(1e-4);
    expect(Math.abs(centroid.partZM - SOLID_HEMISPHERE)).toBeGreaterThan(0.1);
    expect(Math.abs(centroid.partXM)).toBeLessThan(1e-9);
  });

  it('[E5] a solid hemisphere acts at three eighths of its radius', () => {
    const { centroid } = measured(textStl(hemisphere(120, 480, { closed: true })), { shape: 'solid' });
    expect(Math.abs(centroid.partZM - SOLID_HEMISPHERE)).toBeLessThan(1e-4);
  });

  it('[E5] finer facets come nearer to the hemisphere, with the square of their size', () => {
    const off = (rings: number) =>
      Math.abs(measured(textStl(hemisphere(rings, 4 * rings))).centroid.partZM - HOLLOW_HEMISPHERE);
    expect(off(10) / off(20)).toBeGreaterThan(3.5);
    expect(off(10) / off(20)).toBeLessThan(4.5);
  });

  it.each([3, 4, 7, 360])('[E5] the skin of a cone of %i facets acts at a third of its height exactly', (around) => {
    const { centroid } = measured(textStl(cone(2, 0.7, around)));
    expect(Math.abs(centroid.partZM - 2 * HOLLOW_CONE)).toBeLessThan(1e-8);
    const single = measured(binaryStl(cone(2, 0.7, around))).centroid;
    expect(Math.abs(single.partZM - 2 * HOLLOW_CONE)).toBeLessThan(1e-6);
  });
});
