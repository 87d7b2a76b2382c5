import { useEffect, useRef, useState } from 'react';
import { completeFit } from '../../core/finish/complete-fit.ts';
import { parseFit } from '../../core/finish/parse-fit.ts';
import type { RoundFeature } from '../../core/finish/round-features.ts';
import { threadsForBore } from '../../core/finish/threads-for-bore.ts';
import type { Part } from '../../core/job/job.ts';
import { sayQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { holdEntry } from '../state/open-entry.ts';
import { fitFaces, markedThread, paintRows, rowsOfRound } from '../state/mark-fit.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';
import { sideOf } from '../../core/finish/alike-rounds.ts';

/** Without end zeros: "25 mm", "0.9843 in". */
function plainSize(metres: number, system: UnitSystem): string {
  return system === 'us'
    ? `${Number((metres / 0.0254).toFixed(4))} in`
    : `${Number((metres * 1000).toFixed(2))} mm`;
}

const REACH_WORDS = {
  through: ', through',
  blind: ', blind',
  shut: ', closed',
  unknown: ', through or blind not known (the surface has a gap)',
} as const;

/** Bores or bosses of one size: their fit or thread is typed here. */
export function RoundRow({ part, rounds }: { part: Part; rounds: readonly RoundFeature[] }) {
  const { store } = useServices();
  const [text, setText] = useState('');
  const system = useApp((state) => state.unitSystem);
  const round = rounds[0]!;
  const many = rounds.length > 1;
  const words = round.shape === 'hole' ? (many ? 'bores' : 'Bore') : many ? 'bosses' : 'Boss';
  const name = `${many ? `${rounds.length} ` : ''}${words} ${plainSize(round.diameterM, system)}`;
  const rows = new Set(rounds.flatMap((one) => [...rowsOfRound(one)]));
  const threads = round.shape === 'hole' ? threadsForBore(round.diameterM, round.lengthM).slice(0, 3) : [];
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const marked = geometry ? markedThread(part, geometry, rows) : null;
  const full = completeFit(text, round.diameterM, system);
  const read = full === '' ? null : parseFit(full, sideOf(round));
  const give = (code: string): void => fitFaces(store, part.id, rows, code, { as: 'code', text: code });
  const entered = read?.ok ? full : null;
  const take = (): void => {
    if (entered !== null) give(entered);
  };
  const latest = useRef(take);
  useEffect(() => {
    latest.current = take;
  });
  useEffect(() => (entered === null ? undefined : holdEntry(() => latest.current())), [entered]);
  return (
    <article
      className="record-card"
      aria-label={name}
      onKeyDown={({ key, target }) => {
        if (key === 'Enter' && target instanceof HTMLInputElement) take();
      }}
      onBlur={({ currentTarget, relatedTarget }) => {
        // A button of this card says itself what becomes of it.
        if (!currentTarget.contains(relatedTarget)) take();
      }}
    >
      <div className="row">
        <h4 className="grow">{name}</h4>
        <span className="soft">
          {sayQuantity('length', round.lengthM, system)} long
          {round.reach ? REACH_WORDS[round.reach] : ''}
          {round.slit ? ', slit' : ''}
        </span>
      </div>
      <TextEntry
        label={`Fit or thread of ${rounds.flatMap(({ faceIds }) => faceIds).join(', ')}`}
        value={text}
        placeholder={round.shape === 'hole' ? 'H7' : 'g6'}
        complaint={read && !read.ok ? read.error : null}
        isDraft
        onChange={setText}
      />
      <div className="choices">
        <ActionButton isDisabled={!read?.ok} onPress={() => give(full)}>
          Give {many ? 'them' : 'it'} {read?.ok ? full : 'this fit'}
        </ActionButton>
        <ActionButton
          look="small"
          onPress={() => {
            fitFaces(store, part.id, rows, round.shape === 'hole' ? 'Bare bore' : 'Bare boss', {
              as: 'bare',
            });
            paintRows(store, [...rows], 'mask');
          }}
        >
          Keep {many ? 'them' : 'it'} bare and mask
        </ActionButton>
        <ActionButton look="small" onPress={() => store.setState({ selectedFaces: rows })}>
          Show
        </ActionButton>
      </div>
      {marked ? (
        <div className="choices">
          <span className="soft">Marked as threaded in Faces:</span>
          <ActionButton look="small" onPress={() => give(marked)}>
            Give {many ? 'them' : 'it'} {marked}
          </ActionButton>
        </div>
      ) : threads.length > 0 ? (
        <div className="choices" role="group" aria-label="Threads it may stand for">
          <span className="soft">May be tapped:</span>
          {threads.map(({ designation }) => (
            <ActionButton key={designation} look="small" onPress={() => give(designation)}>
              {designation}
            </ActionButton>
          ))}
        </div>
      ) : null}
    </article>
  );
}

/** Faces selected on the part that only have to stay bare: a seat, a ground, a weld. */
