import type { Result } from '../../core/result.ts';
import type { PageServer } from '../serve-page.ts';

/**
 * A browser keeps drafts, settings and the shop's book per address, port included: the page must come back at the
 * same port to find them. Below the ports that systems hand out by themselves, and not registered for anything.
 */
export const USUAL_PORT = 18_620;

/**
 * Serves at the asked-for port; without one at the usual port, or at any free one while that is taken.
 *
 * @param askedPort 0 when none was asked for
 */
export async function serveAtUsualPort(
  serve: (port: number) => Promise<Result<PageServer>>,
  askedPort: number,
  say: (line: string) => void,
): Promise<Result<PageServer>> {
  if (askedPort !== 0) return serve(askedPort);
  const usual = await serve(USUAL_PORT);
  if (usual.ok || usual.error.code !== 'port-not-free') return usual;
  say(
    `Port ${USUAL_PORT} is taken, perhaps by another Tankside. At another port the browser does not find the drafts and the shop’s book kept there.`,
  );
  return serve(0);
}
