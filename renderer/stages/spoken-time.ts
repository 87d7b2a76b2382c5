/** 1:05:09, 12:30, −0:45. */
export function clockText(ms: number): string {
  const seconds = Math.round(Math.abs(ms) / 1000);
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor((seconds % 3600) / 60);
  const two = (value: number): string => String(value).padStart(2, '0');
  const text =
    hours > 0 ? `${hours}:${two(minutes)}:${two(seconds % 60)}` : `${minutes}:${two(seconds % 60)}`;
  return ms < -500 ? `−${text}` : text;
}

/** 14:05, in the user's own way of writing it. */
export function timeOfDay(ms: number): string {
  return new Date(ms).toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' });
}

/** 3 May 2026, 14:05. */
export function dayAndTime(ms: number): string {
  return new Date(ms).toLocaleString(undefined, {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });
}
