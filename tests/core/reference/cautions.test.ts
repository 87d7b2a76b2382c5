import { describe, expect, it } from 'vitest';
import { CAUTION_TOPICS, CAUTIONS, cautionsFor } from '../../../core/reference/cautions.ts';

describe('cautions', () => {
  it.each([
    ['acid', /acid into water/i],
    ['acid', /hydrogen/i],
    ['acid', /ventilate/i],
    ['general', /goggles/i],
    ['general', /local codes/i],
    ['etch', /lye/i],
    ['lead', /lead/i],
    ['seal', /nickel/i],
    ['fluoride', /hydrofluoric.*gluconate/i],
    ['steam', /vented vessel only.*autoclave rated/i],
    ['current', /60 V/],
    ['waste', /local rules/i],
    ['laboratory', /fluoride/i],
  ] as const)('%s says %s', (topic, words) => {
    expect(cautionsFor([topic]).some((caution) => words.test(caution.text))).toBe(true);
  });

  it('every topic has one, every one a source, ids are unique', () => {
    for (const topic of CAUTION_TOPICS) expect(cautionsFor([topic]).length).toBeGreaterThan(0);
    expect(CAUTIONS.every((caution) => caution.source !== '')).toBe(true);
    expect(new Set(CAUTIONS.map((caution) => caution.id)).size).toBe(CAUTIONS.length);
  });
});
