import { describe, expect, it } from 'vitest';
import { newPart } from '../../../core/job/default-job.ts';
import { isOpen } from '../../../core/job/job-messages.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import type { Part } from '../../../core/job/job.ts';
import { pinMessages, type PinsKnown } from '../../../core/job/pin-messages.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { prepareHanging } from '../../../core/racking/hang-part.ts';
import { boxTriangles } from '../../fixtures/model-bytes.ts';

const part: Part = {
  ...newPart('p', 'plate', 1, 'mm', true),
  contacts: ['a', 'b', 'c'].map((id) => ({
    id,
    at: [0, 0, 0],
    triangle: 0,
    patchDiameterM: 3e-3,
    hanger: FIRST_HANGER,
  })),
};
const good = { sight: 1, grip: 1, area: 1, balance: 1, reach: 1, apart: 1 };
const known = (critique: PinsKnown['critique'], over: Partial<PinsKnown> = {}): PinsKnown => ({
  critique,
  failure: null,
  onPart: new Set(['a', 'b', 'c']),
  ...over,
});

describe('messages about pins', () => {
  it('a pin that slips off is a check at that pin, and one with too little room for its current', () => {
    const room = { roomM2: 7e-6, wantedM2: 14e-6, currentA: 13 };
    const said = pinMessages(
      part,
      known({
        a: { parts: good, isVent: false, narrowM: null, room: { ...room, roomM2: 15e-6 } },
        b: { parts: { ...good, grip: 0.05 }, isVent: false, narrowM: null, room: null },
        c: { parts: good, isVent: false, narrowM: null, room },
      }),
      'metric',
    );
    expect(said.map(({ level, code, contactId }) => [level, code, contactId])).toEqual([
      ['check', 'pin-slips', 'b'],
      ['check', 'pin-small', 'c'],
    ]);
    expect(said[0]!.message).toMatch(/^Pin 2: .*slip off/);
    expect(said[1]!.message).toMatch(/^Pin 3: room for 7\.?0? mm² .* 13 A .* 14 mm²/);
  });

  it('a pin in the only way into a hollow is said to shut it, and nothing of slipping', () => {
    const said = pinMessages(
      part,
      known({
        a: { parts: { ...good, grip: 0.1 }, isVent: true, narrowM: null, room: null },
        b: { parts: good, isVent: false, narrowM: null, room: null },
        c: { parts: good, isVent: false, narrowM: null, room: null },
      }),
      'metric',
    );
    expect(said.map(({ level, code, contactId }) => [level, code, contactId])).toEqual([
      ['check', 'pin-in-vent', 'a'],
    ]);
    expect(said[0]!.message).toMatch(/^Pin 1 sits in the only way into a hollow/);
  });

  it('a wire thicker than a hole that no bolt goes into is said not to go in', () => {
    const said = (narrowM: number | null) =>
      pinMessages(part, known({ a: { parts: good, isVent: false, narrowM, room: null } }), 'metric').filter(
        ({ code }) => code === 'pin-too-thick',
      );
    // The first hanger's wire is 2 mm.
    expect(said(4e-4).map(({ message }) => message)).toEqual([
      'Pin 1: its wire, 2.0 mm across, does not go into the hole of 0.40 mm.',
    ]);
    expect(said(null)).toEqual([]);
  });

  it('pins not looked at yet are said to be so without being counted; those off the part are not among them', () => {
    const said = pinMessages(
      part,
      known({ b: { parts: good, isVent: false, narrowM: null, room: null } }),
      'metric',
    );
    expect(said.map(({ level, code, pending, message }) => [level, code, pending, message])).toEqual([
      ['note', 'pins-not-judged', true, 'Pins 1 and 3 of “plate” are not looked at yet.'],
    ]);
    expect(isOpen(said[0]!)).toBe(true);
    const off = pinMessages(part, known({}, { onPart: new Set(['b']) }), 'metric');
    expect(off.map(({ message }) => message)).toEqual(['Pin 2 of “plate” is not looked at yet.']);
    expect(isOpen({ level: 'note' })).toBe(false);
  });

  it('pins that can not be looked at are a check that says why', () => {
    const failure = { code: 'worker-fault', message: 'Out of memory.', remedy: 'Close others.' };
    const [said] = pinMessages(part, known({}, { failure }), 'metric');
    expect(said).toMatchObject({ level: 'check', code: 'pins-not-judged', remedy: 'Close others.' });
    expect(said!.message).toMatch(/^Pins 1, 2 and 3 .* Out of memory\./);
    expect(said!.pending).toBeUndefined();
  });

  it('the room under a pin and what it wants, worked by hand', () => {
    // A block 60 mm thick: no jaw reaches round it, so the pin has its own 2 mm patch alone, π mm². 9.3 A at
    // 0.93 A/mm² (the finishing guidebook's figure for aluminium cross-section, derived) want 10 mm².
    const geometry = analysePart(Float32Array.from(boxTriangles(60, 60, 60).flat()), [], {
      splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD,
    });
    const adviser = prepareHanging(geometry, 1e-3).adviser(new Uint8Array(geometry.triangleCount), {
      up: [0, 0, 1],
      currentA: 9.3,
      patchDiameterM: 3e-3,
      allowShown: false,
      allowMasked: false,
      most: 1,
    });
    const corner = (i: number): [number, number, number] => [
      geometry.positions[3 * i]!,
      geometry.positions[3 * i + 1]!,
      geometry.positions[3 * i + 2]!,
    ];
    const at = [0, 1, 2].map((axis) => (corner(0)[axis]! + corner(1)[axis]! + corner(2)[axis]!) / 3);
    const pin = { at: [at[0]!, at[1]!, at[2]!] as const, triangle: 0, patchDiameterM: 2e-3 };
    const [alone] = adviser.critique([pin]);
    expect(alone!.room!.roomM2 * 1e6).toBeCloseTo(Math.PI, 6);
    expect(alone!.room!.wantedM2 * 1e6).toBeCloseTo(10, 9);
    const [shared] = adviser.critique([pin, pin], true);
    expect(shared!.room!.wantedM2 * 1e6).toBeCloseTo(5, 9);
  });
});
