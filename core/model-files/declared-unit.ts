import type { ModelUnit } from '../job/job.ts';

const SPELLINGS = new Map<string, ModelUnit>([
  ['mm', 'mm'],
  ['millimeter', 'mm'],
  ['millimetre', 'mm'],
  ['millimeters', 'mm'],
  ['millimetres', 'mm'],
  ['cm', 'cm'],
  ['centimeter', 'cm'],
  ['centimetre', 'cm'],
  ['centimeters', 'cm'],
  ['centimetres', 'cm'],
  ['m', 'm'],
  ['meter', 'm'],
  ['metre', 'm'],
  ['meters', 'm'],
  ['metres', 'm'],
  ['in', 'in'],
  ['inch', 'in'],
  ['inches', 'in'],
  ['ft', 'ft'],
  ['foot', 'ft'],
  ['feet', 'ft'],
]);

/** The unit that a comment or header names ("units = mm", "Unit: inches"), or undefined. */
export function declaredUnit(text: string): ModelUnit | undefined {
  const match = /\b(?:file |model |length )?units?(?: are| is| in)?\s*[:=]?\s*"?([a-z]+)\b/i.exec(text);
  return match ? SPELLINGS.get(match[1]!.toLowerCase()) : undefined;
}
