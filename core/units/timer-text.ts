/** A time as a kitchen timer is set to it, to the second: "32:43", "1:05:09". */
export function timerText(seconds: number): string {
  if (!(seconds >= 0 && Number.isFinite(seconds))) throw new RangeError(`timerText: seconds is ${seconds}`);
  const whole = Math.round(seconds);
  const two = (value: number): string => String(value).padStart(2, '0');
  const [hours, minutes] = [Math.floor(whole / 3600), Math.floor((whole % 3600) / 60)];
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

/** What stands behind a timer's text: "32:43 min:s". */
export function timerUnit(seconds: number): string {
  return Math.round(seconds) >= 3600 ? 'h:min:s' : 'min:s';
}
