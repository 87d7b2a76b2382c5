/** 3MF (core specification 1.3), judged by boxes in closed form and by manifold-3d; containers that lie. */
import { strToU8, zipSync, type Zippable } from 'fflate';
import Module from 'manifold-3d';
import { describe, expect, test } from 'vitest';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { plainArea, plainVolume } from '../../fixtures/model-bytes.ts';
import { codeOf, expectRead } from '../../fixtures/read-for-test.ts';

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const RELATIONS =
  '<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">' +
  '<Relationship Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel" Target="/3D/3dmodel.model"/></Relationships>';

function meshXml(
  vertices: readonly (readonly number[])[],
  triangles: readonly (readonly number[])[],
): string {
  const v = vertices.map(([x, y, z]) => `<vertex x="${x}" y="${y}" z="${z}"/>`).join('');
  const t = triangles.map(([a, b, c]) => `<triangle v1="${a}" v2="${b}" v3="${c}" />`).join('');
  return `<mesh><vertices>${v}</vertices><triangles>${t}</triangles></mesh>`;
}

function boxXml(x: number, y: number, z: number): string {
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? x : 0, i & 2 ? y : 0, i & 4 ? z : 0]);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  return meshXml(
    corners,
    quads.flatMap(([a, b, c, d]) => [
      [a, b, c],
      [a, c, d],
    ]),
  );
}

const modelXml = (resources: string, build: string, attributes = 'unit="millimeter"'): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n<model ${attributes} xml:lang="en-US" xmlns="${CORE}" xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06">` +
  `<metadata name="Title">part &lt;1&gt;</metadata><resources>${resources}</resources><build>${build}</build></model>`;

const pack = (model: string, more: Zippable = {}): Uint8Array =>
  zipSync({
    '[Content_Types].xml': strToU8('<Types/>'),
    '_rels/.rels': strToU8(RELATIONS),
    '3D/3dmodel.model': strToU8(model),
    ...more,
  });
const one = (resources: string, build = '<item objectid="1"/>', attributes?: string): Uint8Array =>
  pack(modelXml(resources, build, attributes));
const BOX = `<object id="1" name="rail &amp; foot" type="model">${boxXml(40, 30, 20)}</object>`;

describe('what is in the model', () => {
  test.each([
    ['', 'mm', 1],
    ['unit="millimeter"', 'mm', 1],
    ['unit="micron"', 'mm', 1e-3],
    ['unit="centimeter"', 'cm', 1],
    ['unit="inch"', 'in', 1],
    ['unit="foot"', 'ft', 1],
    ['unit="meter"', 'm', 1],
  ])('its unit is honoured: %s', (attributes, unit, scale) => {
    const model = expectRead('box.3mf', one(BOX, '<item objectid="1"/>', attributes));
    expect(model).toMatchObject({ format: '3mf', declaredUnit: unit, unitIsDeclared: true, notes: [] });
    // Thousandths are not whole in float32.
    expect(plainArea(model.positions) / (5200 * scale ** 2)).toBeCloseTo(1, 6);
    expect(model.bodies).toEqual([{ name: 'rail & foot', firstTriangle: 0, triangleCount: 12 }]);
  });

  test('several objects are bodies, each where the build puts it; a mirrored one keeps its outside', () => {
    const second = `<object id="2" type="model">${boxXml(1, 2, 3)}</object>`;
    const build =
      '<item objectid="1"/><item objectid="2" transform="2 0 0 0 2 0 0 0 2 100 0 0"/><item objectid="2" transform="-1 0 0 0 1 0 0 0 1 -100 0 0"/>';
    const { positions, bodies } = expectRead('three.3mf', one(BOX + second, build));
    expect(bodies.map(({ name, triangleCount }) => [name, triangleCount])).toEqual([
      ['rail & foot', 12],
      ['object 2', 12],
      ['object 3', 12],
    ]);
    // 2 (2 + 3 + 6) = 22; doubled in every direction 4 × 22.
    expect(plainArea(positions)).toBeCloseTo(5200 + 88 + 22, 9);
    expect(plainVolume(positions)).toBeCloseTo(24000 + 48 + 6, 6);
    const part = analysePart(positions, bodies, { splitAngleRad: 0.6 });
    expect(part.closed).toBe(true);
    expect(part.findings.map(({ code }) => code)).toEqual(['bodies-apart']);
    expect(part.max[0]).toBe(102);
    expect(part.min[0]).toBe(-101);
  });

  test('components of components: turns and shifts act inside out', () => {
    const resources =
      BOX +
      // A quarter turn about z (x to y), then 10 along x; around it a shift of 5 along y.
      '<object id="2"><components><component objectid="1" transform="0 1 0 -1 0 0 0 0 1 10 0 0"/></components></object>' +
      '<object id="3"><components><component objectid="2" transform="1 0 0 0 1 0 0 0 1 0 5 0"/><component objectid="1"/></components></object>';
    const { positions } = expectRead('nested.3mf', one(resources, '<item objectid="3"/>'));
    expect(positions).toHaveLength(2 * 12 * 9);
    const turned = positions.subarray(0, 108);
    const spans = [0, 1, 2].map((axis) => {
      const values = Array.from(turned).filter((_, i) => i % 3 === axis);
      return [Math.min(...values), Math.max(...values)];
    });
    // x from −30 + 10 to 10, y from 0 + 5 to 40 + 5.
    expect(spans).toEqual([
      [-20, 10],
      [5, 45],
      [0, 20],
    ]);
  });

  test('objects in parts of their own (production extension)', () => {
    const other = modelXml(BOX, '');
    const root = modelXml(
      '<object id="9"><components><component objectid="1" p:path="/3D/Objects/a.model"/></components></object>',
      '<item objectid="9"/>',
      'unit="inch" requiredextensions="p"',
    );
    const model = expectRead('parts.3mf', pack(root, { '3D/Objects/a.model': strToU8(other) }));
    expect(plainArea(model.positions)).toBe(5200);
    expect(model.declaredUnit).toBe('in');
    expect(model.notes.map(({ code }) => code)).toEqual(['3mf-units-differ']);
  });

  test('supports are left out, an unknown needed extension is told, a missing build is made good', () => {
    const support = `<object id="2" type="support">${boxXml(9, 9, 9)}</object>`;
    const read = expectRead(
      'a.3mf',
      one(
        BOX + support,
        '<item objectid="1"/><item objectid="2"/>',
        'unit="millimeter" requiredextensions="q" xmlns:q="urn:lattice"',
      ),
    );
    expect(read.positions).toHaveLength(108);
    expect(read.notes.map(({ code }) => code)).toEqual(['3mf-extension', '3mf-support-left-out']);
    expect(expectRead('b.3mf', one(BOX, '')).notes.map(({ code }) => code)).toEqual(['3mf-no-build']);
  });

  test('a union by manifold-3d has its area and volume', async () => {
    const kit = await Module();
    kit.setup();
    const solid = kit.Manifold.cube([40, 40, 6], true).subtract(kit.Manifold.cylinder(20, 9, 9, 64, true));
    const mesh = solid.getMesh();
    const xml = meshXml(
      Array.from({ length: mesh.numVert }, (_, i) => [...mesh.position(i)]),
      Array.from({ length: mesh.numTri }, (_, i) => [...mesh.verts(i)]),
    );
    const { positions } = expectRead('u.3mf', one(`<object id="1">${xml}</object>`));
    // Manifold measures in float64 the corners that it gives in float32.
    expect(plainArea(positions) / solid.surfaceArea()).toBeCloseTo(1, 6);
    expect(plainVolume(positions) / solid.volume()).toBeCloseTo(1, 6);
  });
});

describe('models that are wrong', () => {
  const bad = (resources: string, build?: string, attributes?: string): string =>
    codeOf('x.3mf', one(resources, build, attributes));
  test.each([
    ['an unknown unit', () => bad(BOX, undefined, 'unit="parsec"'), '3mf-unit-unknown'],
    [
      'a unit out of an object’s prototype',
      () => bad(BOX, undefined, 'unit="constructor"'),
      '3mf-unit-unknown',
    ],
    ['an object that is not there', () => bad(BOX, '<item objectid="7"/>'), '3mf-object-missing'],
    [
      'an object that contains itself',
      () => bad('<object id="1"><components><component objectid="1"/></components></object>'),
      '3mf-cycle',
    ],
    [
      'two that contain each other',
      () =>
        bad(
          '<object id="1"><components><component objectid="2"/></components></object><object id="2"><components><component objectid="1"/></components></object>',
        ),
      '3mf-cycle',
    ],
    ['a corner that is none', () => bad(BOX.replace('v1="0"', 'v1="8"')), '3mf-corner-missing'],
    ['a corner that is no number', () => bad(BOX.replace('x="40"', 'x="4O"')), '3mf-not-a-number'],
    ['a corner without a number', () => bad(BOX.replace('x="40"', '')), '3mf-not-a-number'],
    [
      'a place of eleven numbers',
      () => bad(BOX, '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/>'),
      '3mf-transform-wrong',
    ],
    ['the same object twice', () => bad(BOX + BOX), '3mf-damaged'],
    ['no triangles', () => bad(`<object id="1">${meshXml([], [])}</object>`), 'no-triangles'],
    ['tags that do not match', () => bad(BOX.replace('</mesh>', '</mash>')), 'xml-damaged'],
  ])('%s', (_what, run, code) => {
    expect(run()).toBe(code);
  });

  test('components that double at every level end soon', () => {
    // 2^40 bodies if it were unfolded.
    const levels = Array.from(
      { length: 40 },
      (_, i) =>
        `<object id="${i + 2}"><components><component objectid="${i + 1}"/><component objectid="${i + 1}"/></components></object>`,
    ).join('');
    expect(bad(BOX + levels, '<item objectid="25"/>')).toBe('3mf-too-many-bodies');
    expect(bad(BOX + levels, '<item objectid="41"/>')).toBe('3mf-cycle');
  });

  test('cut anywhere, the text is never read as a smaller part', () => {
    const text = modelXml(BOX, '<item objectid="1"/>');
    for (let length = 1; length < text.length; length += 97) {
      expect(codeOf('x.3mf', pack(text.slice(0, length)))).toMatch(/^(xml-|no-triangles|3mf-)/);
    }
  });
});

describe('texts that would reach outside', () => {
  test.each([
    ['a document type', '<!DOCTYPE model SYSTEM "http://example.invalid/x.dtd">'],
    ['an outside entity', '<!DOCTYPE model [<!ENTITY x SYSTEM "file:///etc/passwd">]>'],
    [
      'entities that unfold into billions',
      `<!DOCTYPE m [<!ENTITY a "ha"><!ENTITY b "${'&a;'.repeat(10)}"><!ENTITY c "${'&b;'.repeat(10)}">]>`,
    ],
  ])('%s is refused', (_what, doctype) => {
    const text = modelXml(BOX, '<item objectid="1"/>').replace('\n', `\n${doctype}`);
    expect(codeOf('x.3mf', pack(text))).toBe('xml-doctype');
  });

  test('an entity nobody knows stays as it is written; the known ones and characters by number are read', () => {
    const name = 'a&x;b &#65;&#x42; &lt;&amp;lt; &#x110000;é';
    const { bodies } = expectRead('x.3mf', one(BOX.replace('rail &amp; foot', name)));
    expect(bodies[0]!.name).toBe('a&x;b AB <&lt; &#x110000;é');
  });
});

describe('containers that lie', () => {
  const sound = modelXml(BOX, '<item objectid="1"/>');

  test.each(['../evil.model', '3D/../../x', '/abs.model', 'C:/x.model', '3D\\x.model', '3D/./x'])(
    'a name outside: %s',
    (name) => {
      expect(codeOf('x.3mf', pack(sound, { [name]: strToU8('x') }))).toBe('3mf-unsafe-names');
    },
  );

  test('a bomb is told by its ratio and never unpacked', () => {
    const bomb = pack(sound.replace('<metadata', `${' '.repeat(50_000_000)}<metadata`));
    expect(bomb.length).toBeLessThan(200_000);
    const before = process.memoryUsage().arrayBuffers;
    expect(codeOf('x.3mf', bomb)).toBe('3mf-too-large');
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(20_000_000);
  });

  test('a size that is a lie', () => {
    const bytes = pack(sound);
    // The central directory's uncompressed size (APPNOTE 4.3.12, offset 24) of the model, made 4 GB.
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    for (let at = bytes.length - 46; at >= 0; at--) {
      if (view.getUint32(at, true) !== 0x02014b50) continue;
      const name = Buffer.from(bytes.subarray(at + 46, at + 46 + view.getUint16(at + 28, true))).toString();
      if (name === '3D/3dmodel.model') view.setUint32(at + 24, 0xfffffff0, true);
    }
    expect(codeOf('x.3mf', bytes)).toBe('3mf-too-large');
  });

  test('more parts than any model', () => {
    const many = Object.fromEntries(Array.from({ length: 10_001 }, (_, i) => [`a/${i}`, new Uint8Array(0)]));
    expect(codeOf('x.3mf', pack(sound, many))).toBe('3mf-too-large');
  });

  test('cut short, or without a model', () => {
    const bytes = pack(sound);
    for (const share of [0.3, 0.6, 0.9, 0.99]) {
      expect(codeOf('x.3mf', bytes.subarray(0, Math.floor(bytes.length * share)))).toBe('3mf-damaged');
    }
    expect(codeOf('x.3mf', zipSync({ 'readme.txt': strToU8('hello') }))).toBe('3mf-part-missing');
    expect(codeOf('x.3mf', zipSync({ '_rels/.rels': strToU8(RELATIONS) }))).toBe('3mf-part-missing');
  });

  test('the model is found through the container’s own list, whatever it is called', () => {
    const renamed = zipSync({
      '_rels/.rels': strToU8(RELATIONS.replace('/3D/3dmodel.model', '/3D/Bracket.model')),
      '3D/bracket.model': strToU8(sound),
    });
    expect(plainArea(expectRead('x.3mf', renamed).positions)).toBe(5200);
  });
});
