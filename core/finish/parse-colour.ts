import { failure, success, type Result } from '../result.ts';
import { labFromSrgb, type Lab } from './colour.ts';

const HEX = /^#?([0-9a-f]{3}|[0-9a-f]{6})$/i;
const NUMBER = '([+−-]?\\d+(?:[.,]\\d+)?)';
const BETWEEN = '\\s*[,;/ ]\\s*';
const THREE = `${NUMBER}\\s*%?${BETWEEN}${NUMBER}\\s*%?${BETWEEN}${NUMBER}\\s*%?`;
const RGB = new RegExp(`^s?rgb\\s*\\(?\\s*${THREE}\\s*\\)?$`, 'i');
const LAB = new RegExp(`^(?:cie)?lab\\s*\\(?\\s*${THREE}\\s*\\)?$`, 'i');
const NAMED = new RegExp(
  `^l\\*?\\s*[=:]?\\s*${NUMBER}\\s*[,;]?\\s*a\\*?\\s*[=:]?\\s*${NUMBER}\\s*[,;]?\\s*b\\*?\\s*[=:]?\\s*${NUMBER}$`,
  'i',
);

/**
 * A colour as it is written: "#a01828", "rgb(160, 24, 40)" (sRGB, 0-255), "lab(38 52 24)" or "L 38 a 52 b 24" (CIELAB,
 * D65). Three bare numbers are refused: they may be either. Fails with `colour-not-read`.
 */
export function parseColour(text: string): Result<Lab> {
  const trimmed = text.trim();
  const hex = HEX.exec(trimmed);
  if (hex) {
    const digits = hex[1]!.length === 3 ? [...hex[1]!].map((d) => d + d).join('') : hex[1]!;
    const [r, g, b] = [0, 2, 4].map((at) => Number.parseInt(digits.slice(at, at + 2), 16) / 255);
    return success(labFromSrgb(r!, g!, b!));
  }
  const numbers = (match: RegExpExecArray): [number, number, number] =>
    match.slice(1, 4).map((part) => Number(part.replace(',', '.').replace('−', '-'))) as [
      number,
      number,
      number,
    ];
  const rgb = RGB.exec(trimmed);
  if (rgb) {
    const values = numbers(rgb);
    if (values.some((value) => value < 0 || value > 255)) {
      return failure('colour-not-read', 'Red, green and blue go from 0 to 255.', 'Type rgb(160, 24, 40).');
    }
    const [r, g, b] = values;
    return success(labFromSrgb(r / 255, g / 255, b / 255));
  }
  const lab = LAB.exec(trimmed) ?? NAMED.exec(trimmed);
  if (lab) {
    const [l, a, b] = numbers(lab);
    if (l < 0 || l > 100 || Math.abs(a) > 150 || Math.abs(b) > 150) {
      return failure(
        'colour-not-read',
        'L* goes from 0 to 100, a* and b* from −150 to 150.',
        'Type L 38 a 52 b 24.',
      );
    }
    return success({ l, a, b });
  }
  return failure(
    'colour-not-read',
    `“${trimmed}” is no colour that can be read.`,
    'Type #a01828, rgb(160, 24, 40), or L 38 a 52 b 24.',
  );
}
