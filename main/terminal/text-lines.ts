const LABEL_WIDTH = 14;
const MARKS = { note: 'Note', check: 'Check', stop: 'STOP' } as const;

export type Level = keyof typeof MARKS;

/** A label and what belongs to it, indented. */
export const line = (label: string, text: string, width = LABEL_WIDTH): string =>
  `  ${label.padEnd(width)}${text}`;

/** Something to be said, with what to do about it below. */
export const said = (level: Level, message: string, remedy: string): string[] => [
  `  ${MARKS[level]}: ${message}`,
  `    ${remedy}`,
];
