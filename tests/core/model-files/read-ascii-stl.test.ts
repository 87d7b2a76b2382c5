import { describe, expect, it } from 'vitest';
import { readModel } from '../../../core/model-files/read-model.ts';
import { modelLoaders } from '../../../main/terminal/model-loaders.ts';
import { asciiFacet, asciiStl, boxTriangles, plainArea, textBytes } from '../../fixtures/model-bytes.ts';
import { codeOf, expectRead, readForTest } from '../../fixtures/read-for-test.ts';

const box = boxTriangles(10, 20, 30);
const BOX_AREA = 2200;
const text = asciiStl(box);

function messageOf(content: string): string {
  const read = readForTest('a.stl', content);
  return read.ok ? 'read' : read.error.message;
}

describe('ASCII STL', () => {
  it('reads a box, whatever its line ends, case, spacing and byte order mark', () => {
    const wanted = [...expectRead('a.stl', text).positions];
    expect(plainArea(wanted)).toBe(BOX_AREA);
    const forms = [
      text.replaceAll('\n', '\r\n'),
      text.replaceAll('\n', '\r'),
      text.toUpperCase(),
      text.replaceAll(/\s+/g, ' '),
      text.replaceAll(' ', '\t'),
      `\uFEFF${text}`,
      `\n\n  ${text}`,
      text.replaceAll(/(vertex) (\d+)/g, '$1 +$2.000e+00'),
    ];
    for (const form of forms) {
      const model = expectRead('a.stl', form);
      expect([...model.positions]).toEqual(wanted);
      expect(model.notes.map((n) => n.code)).toEqual(['stl-normals-missing']);
    }
  });

  it('reads numbers to the last bit of float32', () => {
    const values = [1 / 3, -2e-8, 1.17549435e-38, 12345.678, 0.1, 3e5, 7, 8.5, 9.25];
    const model = expectRead('a.stl', asciiStl([values]));
    expect([...model.positions]).toEqual(values.map(Math.fround));
  });

  it('makes each solid a body, named or numbered', () => {
    const many = [
      asciiStl(box.slice(0, 2), 'left plate'),
      asciiStl([], 'nothing'),
      asciiStl(box.slice(2, 5), ''),
      asciiStl(box.slice(5), 'facet cover'),
    ];
    expect(expectRead('a.stl', many.join('')).bodies).toEqual([
      { name: 'left plate', firstTriangle: 0, triangleCount: 2 },
      { name: 'solid 2', firstTriangle: 2, triangleCount: 3 },
      { name: 'facet cover', firstTriangle: 5, triangleCount: 7 },
    ]);
  });

  it('names the line and the fault of a damaged file', () => {
    const facet = asciiFacet(box[0]!);
    const wrap = (...parts: string[]): string => ['solid x', ...parts, 'endsolid x'].join('\n');
    expect(codeOf('a.stl', wrap(facet, asciiFacet([...box[0]!, 1, 2, 3])))).toBe('stl-too-many-corners');
    expect(messageOf(wrap(facet, asciiFacet([...box[0]!, 1, 2, 3])))).toContain('line 9 has more than three');
    expect(codeOf('a.stl', wrap(asciiFacet(box[0]!.slice(0, 6))))).toBe('stl-too-few-corners');
    expect(messageOf(wrap(asciiFacet(box[0]!.slice(0, 6))))).toContain('line 2 has 2 of its three');
    expect(codeOf('a.stl', wrap(facet.replace('endfacet', ''), facet))).toBe('stl-facet-unfinished');
    expect(codeOf('a.stl', wrap(facet.replace('facet normal 0 0 0', '')))).toBe('stl-facet-unfinished');
    expect(codeOf('a.stl', wrap(facet.replace('outer', 'uoter')))).toBe('stl-unexpected-word');
    expect(codeOf('a.stl', 'solid x\nendsolid x\n')).toBe('no-triangles');
  });

  it.each(['nan', 'inf', '1,5', '1.2.3', '--4', '1e', '.', '0x10', '1_0', '9'.repeat(80)])(
    'does not take %j for a number',
    (word) => {
      expect(codeOf('a.stl', text.replace('vertex 0 ', `vertex ${word} `))).toBe('stl-not-a-number');
    },
  );

  it('explains decimal commas', () => {
    const read = readForTest('a.stl', text.replace('vertex 0 0', 'vertex 0,5 0'));
    expect(read.ok ? '' : read.error.remedy).toContain('decimal commas');
  });

  it('tells truncation anywhere inside a facet, and notes a missing endsolid', () => {
    const cut = text.slice(0, text.lastIndexOf('endfacet') - 1);
    expect(codeOf('a.stl', cut)).toBe('stl-ascii-truncated');
    expect(messageOf(cut)).toContain('after 11 whole triangles');
    const open = expectRead('a.stl', text.slice(0, text.lastIndexOf('endsolid')));
    expect(open.notes.map((n) => n.code)).toContain('stl-no-endsolid');
    const stray = expectRead('a.stl', text.replace('endsolid', 'fcaet normal\nendsolid'));
    expect(stray.notes.map((n) => n.code)).toContain('stl-stray-words');
  });

  it('reads across the pieces it is cut into, with rising progress', () => {
    // 60 000 facets of about 130 bytes are some 8 MB: two pieces and more.
    const many = Array.from({ length: 60_000 }, (_, i) => [i, 0, 0, i + 1, 0, 0, i, 1, i / 7]);
    const seen: number[] = [];
    const read = readModel({
      name: 'many.stl',
      bytes: textBytes(asciiStl(many)),
      loaders: modelLoaders(),
      onProgress: (fraction) => seen.push(fraction),
    });
    if (!read.ok) throw new Error(read.error.message);
    expect(read.value.positions.length).toBe(60_000 * 9);
    expect(read.value.positions.every((v, k) => v === Math.fround(many[Math.floor(k / 9)]![k % 9]!))).toBe(
      true,
    );
    expect(seen.length).toBeGreaterThan(2);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.at(-1)).toBe(1);
  });
});
