import { NO_PACKING_HELP } from '../../core/job/pack-request.ts';
import type { Services } from '../app/services.ts';

type PackingServices = Pick<Services, 'derived' | 'hanging' | 'worker'>;

/**
 * Has the worker pack the loads whenever what they rest on is another, and afterwards look for a turn or a second row
 * that would save some. What is asked again while it is busy replaces what waits.
 */
export function followPacking({ derived, hanging, worker }: PackingServices): void {
  let asked = '';
  const look = async (): Promise<void> => {
    const { request } = derived.getState().tank;
    if (!request || request.key === asked) return;
    const { key } = request;
    asked = key;
    const made = await worker.run('packTank', { name: 'the tank', request }, { supersede: 'pack' });
    if (asked !== key || (!made.ok && made.error.code === 'superseded')) return;
    const packed = made.ok ? made.value : { plan: made, within: [] };
    hanging.setState({ packed: { request, ...packed, help: NO_PACKING_HELP } });
    if (!made.ok) return;
    const help = await worker.run(
      'helpPacking',
      { name: 'the tank', request, plan: packed.plan },
      { supersede: 'help' },
    );
    if (asked === key && help.ok) hanging.setState({ packed: { request, ...packed, help: help.value } });
  };
  derived.subscribe(() => void look());
  void look();
}
