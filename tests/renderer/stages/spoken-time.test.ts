/** Times of day as the languages of the Unicode CLDR write them. */
import { describe, expect, it } from 'vitest';
import { timeOfDay, timeSeenFrom } from '../../../renderer/stages/spoken-time.ts';

const at = (day: number, hour: number, minute: number): number =>
  new Date(2026, 10, day, hour, minute).getTime();
/** Node and browsers write different blanks before AM and PM. */
const plain = (text: string): string => text.replace(/\s/g, ' ');

describe('a time of day', () => {
  it('has a nought before the hour of a 24-hour clock alone', () => {
    expect(plain(timeOfDay(at(30, 7, 5), 'en-US'))).toBe('7:05 AM');
    expect(timeOfDay(at(30, 7, 5), 'en-GB')).toBe('07:05');
    expect(timeOfDay(at(30, 7, 5), 'de-DE')).toBe('07:05');
  });

  it('of another day has that day’s name, so that an end after midnight is not before its beginning', () => {
    const begun = at(29, 18, 30); // a Sunday
    expect(timeSeenFrom(at(29, 19, 36), begun, 'en-GB')).toBe('19:36');
    expect(timeSeenFrom(at(30, 12, 4), begun, 'en-GB')).toBe('Mon 12:04');
    expect(plain(timeSeenFrom(at(30, 12, 4), begun, 'en-US'))).toBe('Mon 12:04 PM');
  });
});
