import type { JobMessage } from './job-messages.ts';
import type { Part } from './job.ts';

/**
 * What stands before a message so that it is known of which part it speaks, wherever messages are shown: the part's name where the job
 * has others and the message does not name it itself; otherwise nothing.
 */
export function partBefore(
  parts: readonly Pick<Part, 'id' | 'name'>[],
  { partId, message }: Pick<JobMessage, 'partId' | 'message'>,
): string {
  const name = parts.length > 1 ? parts.find(({ id }) => id === partId)?.name : undefined;
  return name === undefined || message.includes(`“${name}”`) ? '' : `${name}: `;
}
