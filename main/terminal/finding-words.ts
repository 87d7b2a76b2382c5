import type { Finding } from '../../core/mesh/part-geometry.ts';

/** A finding's remedy, with what can be done about it from here: the window's buttons are options of the command. */
export function terminalRemedy({
  code,
  remedy,
  offers = [],
}: Pick<Finding, 'code' | 'remedy' | 'offers'>): string {
  const weld = offers.some((offer) => 'repair' in offer && offer.repair.kind === 'weld');
  const fuse = offers.some((offer) => 'fuseGap' in offer && offer.fuseGap === 0);
  const curved = offers.some((offer) => 'fuseGap' in offer && offer.fuseGap > 0);
  const sheet = offers.some((offer) => 'asks' in offer);
  const inWindow = offers.flatMap((offer) =>
    'repair' in offer && offer.repair.kind !== 'weld' ? [`“${offer.label}”`] : [],
  );
  return [
    remedy,
    ...(weld ? ['--weld joins them here.'] : []),
    ...(sheet ? ['--sheet 2mm gives a sheet its thickness here.'] : []),
    ...(code === 'closed-cavity' ? ['--vent 1 says so of the first, --vent all of all.'] : []),
    ...(fuse ? ['--fuse joins the bodies here.'] : []),
    ...(curved ? ['--fuse-curved does it here.'] : []),
    ...(inWindow.length > 0 ? [`The window offers: ${inWindow.join(', ')}.`] : []),
  ].join(' ');
}
