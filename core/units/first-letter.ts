/** The text with its first letter large: the start of a sentence, a label. */
export function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

/** … with its first letter small: a sentence that goes on after a colon. */
export function uncapital(text: string): string {
  return text.slice(0, 1).toLowerCase() + text.slice(1);
}
