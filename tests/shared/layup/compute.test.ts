/** A lay-up schedule into masses (rules E3, E4, U2): one panel by hand, and what must hold for all. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bevelledVolumeM3, insetM } from '#shared/layup/bevel.ts';
import { computeLayUp, estimateOfLayUp } from '#shared/layup/compute.ts';
import { massFraction, voidContent, volumeFraction } from '#shared/layup/fractions.ts';
import type { LayUp, Line } from '#shared/layup/schedule.ts';
import { ofLines, PANEL, scheduleOf } from './make-schedules.ts';

const panel = computeLayUp(scheduleOf(PANEL));

function line(at: number) {
  const found = panel.lines[at];
  if (found === undefined) throw new Error(`no line ${at}`);
  return found;
}

describe('a sandwich panel by hand', () => {
  it('[E3] plies: area x layers x areal weight, and the resin that goes with 60 % fibre', () => {
    // 0.5 m² x 2 x 0.2 kg/m² = 0.2 kg fibre; x 0.4/0.6 = 0.133 333 kg resin.
    expect(line(0).byKindKg.fibre).toBeCloseTo(0.2, 12);
    expect(line(0).byKindKg.resin).toBeCloseTo(0.133_333_333, 9);
    // 0.5 x 1 x 0.2 = 0.1 kg fibre and 0.066 667 kg resin.
    expect(line(2).massKg).toBeCloseTo(0.166_666_667, 9);
    // Its own 0.05 m² x 4 x 0.1 = 0.02 kg fibre and 0.013 333 kg resin.
    expect(line(3).massKg).toBeCloseTo(0.033_333_333, 9);
  });

  it('[E4] core: area x thickness less the bevel, corners counted once, and resin on both faces', () => {
    // A t = 0.5 x 0.01 = 0.005 m³. At 45° the bevel runs in by t: P t²/2 = 3 x 0.0001/2 = 0.000 15 m³; 4/3 t³ = 0.000 001 333 m³.
    // 0.004 851 333 m³ x 75 kg/m³ = 0.363 85 kg. Resin: 0.5 m² x 2 x 0.3 kg/m² = 0.3 kg.
    expect(line(1).byKindKg.core).toBeCloseTo(0.363_85, 12);
    expect(line(1).byKindKg.resin).toBeCloseTo(0.3, 12);
    expect(line(1).notes).toEqual([]);
  });

  it('[E3] coats by area, bond lines and fillets by length and section, inserts by the piece', () => {
    expect(line(4).massKg).toBeCloseTo(0.04, 12); // 0.5 x 80 % x 0.1.
    expect(line(5).massKg).toBeCloseTo(0.072, 12); // 3 m x 20e-6 m² x 1,200.
    expect(line(6).massKg).toBeCloseTo(0.03, 12); // 1 m x 50e-6 m² x 600.
    expect(line(7).massKg).toBeCloseTo(0.03, 12); // 6 x 0.005.
  });

  it('[E3] the whole, what it is of, and each line as a share of it', () => {
    // 0.333333 + 0.66385 + 0.166667 + 0.033333 + 0.04 + 0.072 + 0.03 + 0.03 = 1.369 183 kg.
    expect(panel.massKg).toBeCloseTo(1.369_183_333, 9);
    expect(panel.byKind.fibre.massKg).toBeCloseTo(0.32, 12);
    // 0.133333 + 0.3 + 0.066667 + 0.013333.
    expect(panel.byKind.resin.massKg).toBeCloseTo(0.513_333_333, 9);
    expect(panel.byKind.core.massKg).toBeCloseTo(0.363_85, 12);
    expect(panel.byKind.coat.massKg).toBeCloseTo(0.04, 12);
    expect(panel.byKind.other.massKg).toBeCloseTo(0.132, 12);
    expect(line(0).share).toBeCloseTo(0.333_333_333 / 1.369_183_333, 9);
    expect(panel.lines.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  it('[E1] what goes on later, with the finish in it, and what comes out of the mould', () => {
    // Moulded: plies 0.533333, core 0.66385, fillet 0.03. Later: bond line 0.072, inserts 0.03. Finish: primer 0.04.
    expect(panel.byOn.moulded.massKg).toBeCloseTo(1.227_183_333, 9);
    expect(panel.byOn.later.massKg).toBeCloseTo(0.102, 12);
    expect(panel.byOn.finish.massKg).toBeCloseTo(0.04, 12);
    expect(estimateOfLayUp(scheduleOf(PANEL))).toEqual({
      massKg: 1.36918333333,
      massStdKg: expect.closeTo(panel.stdKg, 11),
      laterKg: 0.142,
      finishKg: 0.04,
    });
  });

  it('[E3] cured thickness, areal density, and the fibre fractions of all plies', () => {
    // Carbon 1,800 and epoxy 1,200 at 60 % by mass: Vf 0.5. 2 x 0.2/(1,800 x 0.5) = 0.444 444 mm.
    expect(line(0).thicknessM).toBeCloseTo(0.000_444_444, 9);
    // Three layers cover the panel: 0.666 667 mm. The glass patch has an area of its own.
    expect(panel.regions[0]?.laminateM).toBeCloseTo(0.000_666_667, 9);
    expect(panel.regions[0]?.arealKgM2).toBeCloseTo(1.369_183_333 / 0.5, 8);
    expect(panel.wf).toBeCloseTo(0.6, 12);
    // Fibre 0.3/1,800 + 0.02/2,500 = 0.000 174 667 m³; resin 0.213 333/1,200 = 0.000 177 778 m³.
    expect(panel.vf).toBeCloseTo(0.000_174_667 / (0.000_174_667 + 0.000_177_778), 5);
  });

  it('[U2] a source that lines share is added before it is squared', () => {
    const std = (source: string) => panel.sources.find((one) => one.source === source)?.stdKg;
    // Twill 3 % of 0.333333 + 0.166667 = 0.5 kg, fibre and the resin it holds.
    expect(std('material Twill')).toBeCloseTo(0.015, 12);
    // Fibre fraction 0.03: dm/dWf = -F/Wf² = -0.32/0.36 = -0.888 889 kg.
    expect(std('fibre fraction')).toBeCloseTo(0.026_666_667, 9);
    // 2 % of what goes by area: plies 0.533333, core and its resin 0.66385, primer 0.04 = 1.237 183 kg.
    expect(std('area of Panel (1)')).toBeCloseTo(0.024_743_667, 9);
    expect(std('material Glass')).toBeCloseTo(0.05 * 0.033_333_333, 9);
    expect(std('material Foam')).toBeCloseTo(0.08 * 0.363_85, 12);
    expect(std('resin taken up by Foam')).toBeCloseTo(0.06, 12);
    expect(std('material Primer')).toBeCloseTo(0.01, 12);
    expect(std('material Paste')).toBeCloseTo(0.0072, 12);
    expect(std('material Micro')).toBeCloseTo(0.0045, 12);
    expect(std('material Insert')).toBeCloseTo(0.0012, 12);
    expect(panel.stdKg).toBeCloseTo(Math.hypot(...panel.sources.map(({ stdKg }) => stdKg)), 12);
    // With squares taken line by line it would be less: the shared 3 % of the twill would be 0.011 18 and not 0.015.
    expect(panel.stdKg).toBeGreaterThan(Math.hypot(...panel.lines.map(({ stdKg }) => stdKg)));
    expect(panel.sources.map(({ stdKg }) => stdKg)).toEqual(
      panel.sources.map(({ stdKg }) => stdKg).toSorted((a, b) => b - a),
    );
  });
});

describe('cores', () => {
  it('[E4] kerfs take foam away and fill with resin', () => {
    const kerfs = { 'kerf length': '10 m', 'kerf width': '1 mm', 'kerf depth': '8 mm' };
    const [cut] = computeLayUp(scheduleOf(ofLines({ is: 'core', material: 'Foam', faces: '0', ...kerfs }))).lines;
    // 10 x 0.001 x 0.008 = 0.000 08 m³: foam (0.01 - 0.00008) x 75 = 0.744 kg, resin 0.00008 x 1,200 = 0.096 kg.
    expect(cut?.byKindKg).toMatchObject({ core: expect.closeTo(0.744, 12), resin: expect.closeTo(0.096, 12) });
  });

  it('[E4] the volume of a rectangle is what slices of it add up to', () => {
    const sides = fc.record({
      a: fc.double({ min: 0.2, max: 3, noNaN: true }),
      b: fc.double({ min: 0.2, max: 3, noNaN: true }),
    });
    const cut = fc.record({
      t: fc.double({ min: 0.002, max: 0.04, noNaN: true }),
      deg: fc.double({ min: 30, max: 89, noNaN: true }),
    });
    fc.assert(
      fc.property(sides, cut, ({ a, b }, { t, deg }) => {
        const core = {
          areaM2: a * b,
          perimeterM: 2 * (a + b),
          thicknessM: t,
          bevelDeg: deg,
          outline: 'rectangle',
        } as const;
        const inM = insetM(core);
        fc.pre(2 * inM <= Math.min(a, b));
        // Simpson's rule is exact for what goes with the square of the depth.
        const slice = (h: number) => (a - 2 * inM * h) * (b - 2 * inM * h);
        const sliced = (t * (slice(0) + 4 * slice(0.5) + slice(1))) / 6;
        expect(bevelledVolumeM3(core)).toBeCloseTo(sliced, 12);
      }),
    );
  });

  it('[E4] another outline leaves the corner term out, and the line says so', () => {
    const of = (outline: string) =>
      computeLayUp(scheduleOf(ofLines({ is: 'core', material: 'Foam', bevel: '45', outline, faces: '0' }))).lines[0];
    // Corner term: 4/3 x 0.01³ x 75 kg/m³ = 0.1 g.
    expect((of('rectangle')?.massKg ?? 0) - (of('other')?.massKg ?? 0)).toBeCloseTo(0.0001, 12);
    expect(of('other')?.notes).toEqual(['corners left out']);
    expect(of('rectangle')?.notes).toEqual([]);
  });

  it('[E4] a right angle is no bevel', () => {
    const of = (words: Record<string, string>) =>
      computeLayUp(scheduleOf(ofLines({ is: 'core', material: 'Foam', ...words }))).massKg;
    expect(of({ bevel: '90', outline: 'rectangle' })).toBe(of({}));
  });
});

describe('fibre by volume', () => {
  it('[E3] the same laminate by mass and by volume weighs the same', () => {
    const lines = [{ is: 'ply', material: 'Twill', layers: '3' }];
    const { 'fibre by mass': _, ...others } = ofLines(...lines);
    const byVolume = computeLayUp(scheduleOf({ ...others, 'fibre by volume': '50 %' }));
    const byMass = computeLayUp(scheduleOf(ofLines(...lines)));
    expect(byVolume.massKg).toBeCloseTo(byMass.massKg, 12);
    expect(byVolume.wf).toBeCloseTo(0.6, 12);
    // By volume, the density of the resin makes a difference: 2 % of 0.4 kg.
    expect(byVolume.sources.find(({ source }) => source === 'material Epoxy')?.stdKg).toBeCloseTo(0.008, 12);
    expect(byMass.sources.find(({ source }) => source === 'material Epoxy')).toBeUndefined();
  });

  it('[E3] each fabric has the mass fraction that its own density gives', () => {
    const { 'fibre by mass': _, ...others } = ofLines({ is: 'ply', material: 'Glass', layers: '1' });
    const glass = computeLayUp(scheduleOf({ ...others, 'fibre by volume': '50 %' }));
    // 0.5 x 2,500/(0.5 x 2,500 + 0.5 x 1,200) = 1,250/1,850.
    expect(glass.wf).toBeCloseTo(1250 / 1850, 12);
    expect(glass.massKg).toBeCloseTo((0.1 * 1850) / 1250, 12);
  });
});

const fraction = fc.double({ min: 0.001, max: 0.999, noNaN: true });
const density = fc.double({ min: 500, max: 8000, noNaN: true });

describe('what must hold', () => {
  it('[E3] from mass to volume and back is where it began', () => {
    fc.assert(
      fc.property(fraction, density, density, (wf, fibreKgM3, resinKgM3) => {
        const vf = volumeFraction(wf, { fibreKgM3, resinKgM3 });
        expect(massFraction(vf, { fibreKgM3, resinKgM3 })).toBeCloseTo(wf, 12);
        // A laminate as dense as its parts make it has no voids.
        const measuredKgM3 = vf * fibreKgM3 + (1 - vf) * resinKgM3;
        expect(voidContent({ wf, fibreKgM3, resinKgM3, measuredKgM3 }).fraction).toBeCloseTo(0, 12);
      }),
    );
  });

  it('[E3] a region split in two weighs the same', () => {
    fc.assert(
      fc.property(fraction, (at) => {
        const whole = withoutBevel();
        const [region] = whole.regions;
        if (region === undefined) throw new Error('no region');
        const part = (name: string, share: number) => ({
          ...{ ...region, name, areaM2: region.areaM2 * share, areaStd: 0 },
          lines: region.lines.map((one) => {
            if (one.is === 'bond line' || one.is === 'fillet') return { ...one, lengthM: one.lengthM * share };
            return one.is === 'ply' && one.areaM2 !== undefined ? { ...one, areaM2: one.areaM2 * share } : one;
          }),
        });
        const split = computeLayUp({ ...whole, regions: [part('One', at), part('Two', 1 - at)] });
        const before = computeLayUp({ ...whole, regions: [{ ...region, areaStd: 0 }] });
        expect(split.massKg).toBeCloseTo(before.massKg, 10);
        expect(split.stdKg).toBeCloseTo(before.stdKg, 10);
        expect(split.wf).toBeCloseTo(before.wf ?? 0, 10);
      }),
    );
  });

  it('[E3] the order of lines changes nothing', () => {
    const layUp = scheduleOf(PANEL);
    const [region] = layUp.regions;
    if (region === undefined) throw new Error('no region');
    fc.assert(
      fc.property(fc.shuffledSubarray(region.lines, { minLength: region.lines.length }), (lines) => {
        const shuffled = computeLayUp({ ...layUp, regions: [{ ...region, lines }] });
        expect(shuffled.massKg).toBeCloseTo(panel.massKg, 12);
        expect(shuffled.stdKg).toBeCloseTo(panel.stdKg, 12);
        expect(shuffled.vf).toBeCloseTo(panel.vf ?? 0, 12);
      }),
    );
  });
});

/** The panel without its bevel and without the inserts, which cannot be halved. */
function withoutBevel(): LayUp {
  const layUp = scheduleOf(PANEL);
  return {
    ...layUp,
    regions: layUp.regions.map((region) => ({
      ...region,
      lines: region.lines.flatMap((one): readonly Line[] => {
        if (one.is === 'insert') return [];
        if (one.is !== 'core') return [one];
        const { bevelDeg: _, ...core } = one;
        return [core];
      }),
    })),
  };
}
