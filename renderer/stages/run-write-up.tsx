import { useEffect, useRef, useState } from 'react';
import { Input, Label, TextArea, TextField } from 'react-aria-components';
import { labFromSrgb } from '../../core/finish/colour.ts';
import { doubtFilm } from '../../core/shop/doubt-film.ts';
import type { RunOutcome, RunRecord } from '../../core/shop/run-record.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import { useApp, useServices } from '../app/services.ts';
import { notify } from '../state/notices.ts';
import { storageFailure } from '../state/run-store.ts';
import type { PhotoRow } from '../state/shop-database.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { RunDip } from './run-dip.tsx';
import { OUTCOME_WORDS } from './outcome-words.ts';

const JUDGED: readonly { readonly id: RunOutcome; readonly label: string }[] = (
  ['good', 'flawed', 'failed'] as const
).map((id) => ({ id, label: OUTCOME_WORDS[id] }));

/** What came of the run: outcome, measured film, colour, note, photos. Kept with every change. */
export function RunWriteUp({ record }: { readonly record: RunRecord }) {
  const { runs, store } = useServices();
  const keep = (edit: (now: RunRecord) => RunRecord): Promise<boolean> =>
    runs.store.change(record.id, edit).then(
      () => true,
      (fault: unknown) => {
        notify(store, storageFailure(fault));
        return false;
      },
    );
  return (
    <section className="stack write-up" aria-label="What came of it">
      <h3>What came of it</h3>
      <ChoiceRow
        label="Outcome"
        choices={JUDGED}
        chosen={record.outcome === 'unjudged' ? null : record.outcome}
        onChoose={(outcome) => void keep((now) => ({ ...now, outcome }))}
      />
      <MeasuredFilms record={record} onKeep={keep} />
      <div className="two">
        <KeptText
          label="Dye"
          place={`${record.id}-dye`}
          value={record.dye}
          onKeep={(dye) => keep((now) => ({ ...now, dye }))}
        />
        <KeptText
          label="Colour, in words"
          place={`${record.id}-colour`}
          value={record.colour}
          onKeep={(colour) => keep((now) => ({ ...now, colour }))}
        />
      </div>
      <KeptText
        label="Note"
        place={`${record.id}-note`}
        value={record.note}
        long
        onKeep={(note) => keep((now) => ({ ...now, note }))}
      />
      <Photos record={record} onColour={(lab) => void keep((now) => ({ ...now, lab }))} />
      <RunDip record={record} />
    </section>
  );
}

interface KeptTextProps {
  readonly label: string;
  readonly value: string;
  /** Names the field among all there are. */
  readonly place: string;
  readonly long?: boolean;
  /** Resolves to whether the book has it. */
  readonly onKeep: (text: string) => Promise<boolean>;
}

/** Kept when the field is left, so that each letter is not a write of its own; what a page that goes away cuts off is taken up again. */
function KeptText({ label, place, value, long = false, onKeep }: KeptTextProps) {
  const { typedText } = useServices().runs;
  const [typed, setTyped] = useState<string | null>(null);
  const leave = useRef<() => void>(() => {});
  const keep = useRef<(text: string) => void>(() => {});
  useEffect(() => {
    keep.current = (text) =>
      void onKeep(text).then((kept) => {
        if (kept && typedText.look(place) === text) typedText.clear(place);
      });
    leave.current = () => {
      if (typed !== null && typed !== value) keep.current(typed);
    };
  });
  useEffect(() => {
    const left = typedText.look(place);
    if (left !== null) keep.current(left);
    return () => leave.current();
  }, [place, typedText]);
  return (
    <TextField
      className="field"
      value={typed ?? value}
      onChange={(text) => {
        setTyped(text);
        // The book's write may come too late for a page that is being closed; this one is done at once.
        typedText.put(place, text);
      }}
      onBlur={() => leave.current()}
    >
      <Label>{label}</Label>
      {long ? <TextArea rows={3} /> : <Input />}
    </TextField>
  );
}

function MeasuredFilms({
  record,
  onKeep,
}: {
  readonly record: RunRecord;
  readonly onKeep: (edit: (now: RunRecord) => RunRecord) => unknown;
}) {
  const system = useApp((state) => state.unitSystem);
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState('');
  const [byMass, setByMass] = useState(record.measured.massLoss !== null);
  const [coatedKg, setCoatedKg] = useState(record.measured.massLoss?.coatedKg ?? null);
  const [strippedKg, setStrippedKg] = useState(record.measured.massLoss?.strippedKg ?? null);
  const unit = system === 'us' ? 'mil' : 'µm';
  const { filmM } = record.measured;
  const measure = (edit: (now: RunRecord['measured']) => RunRecord['measured']): void =>
    void onKeep((now) => ({ ...now, measured: edit(now.measured) }));
  /** What was typed and is asked about; it is neither taken nor lost. */
  const [doubt, setDoubt] = useState<{
    readonly reason: string;
    readonly typedM: readonly number[];
    readonly meantM: readonly number[] | null;
  } | null>(null);
  const keepFilms = (values: readonly number[]): void => {
    setDoubt(null);
    setWrong('');
    setText('');
    measure((now) => ({ ...now, filmM: [...now.filmM, ...values] }));
  };
  const add = (): void => {
    const values: number[] = [];
    for (const part of text.trim().split(/[\s;]+/)) {
      const parsed = parseQuantity('length', part, unit);
      if (!parsed.ok || !(parsed.value > 0 && parsed.value < 1e-3)) {
        return setWrong(`“${part}” is no film thickness; type numbers in ${unit}.`);
      }
      values.push(parsed.value);
    }
    const doubts = values.map((valueM) => doubtFilm(valueM, record, system));
    const first = doubts.find((found) => found !== null);
    if (!first) return keepFilms(values);
    setWrong('');
    const meantM = values.map((valueM, i) => (doubts[i] ? doubts[i].meantM : valueM));
    setDoubt({
      reason: first.reason,
      typedM: values,
      meantM: meantM.some((valueM) => valueM === null) ? null : (meantM as number[]),
    });
  };
  const weigh = (coated: number | null, stripped: number | null): void => {
    setCoatedKg(coated);
    setStrippedKg(stripped);
    const massLoss = coated !== null && stripped !== null ? { coatedKg: coated, strippedKg: stripped } : null;
    measure((now) => ({ ...now, massLoss }));
  };
  return (
    <>
      <form
        className="field"
        onSubmit={(event) => {
          event.preventDefault();
          if (text.trim() !== '') add();
        }}
      >
        <label htmlFor="film-readings">Film, eddy-current readings in {unit}, then Enter</label>
        <input
          id="film-readings"
          value={text}
          autoComplete="off"
          onChange={(event) => {
            setText(event.target.value);
            setDoubt(null);
          }}
        />
        {wrong ? (
          <span className="wrong" role="alert">
            {wrong}
          </span>
        ) : null}
      </form>
      {doubt ? (
        <MessageCard level="check" message={doubt.reason} remedy="Is this right?">
          {doubt.meantM ? (
            <ActionButton look="main" onPress={() => keepFilms(doubt.meantM!)}>
              No, take {doubt.meantM.map((valueM) => formatIn('length', valueM, unit, 3).text).join(', ')}
            </ActionButton>
          ) : null}
          <ActionButton onPress={() => keepFilms(doubt.typedM)}>Yes, take it as it is</ActionButton>
        </MessageCard>
      ) : null}
      {filmM.length > 0 ? (
        <div className="row">
          {filmM.map((value, index) => (
            <ActionButton
              key={index}
              look="small"
              onPress={() => measure((now) => ({ ...now, filmM: now.filmM.filter((_, i) => i !== index) }))}
            >
              {formatIn('length', value, unit, 3).text} ✕
              <span className="visually-hidden"> take this reading out</span>
            </ActionButton>
          ))}
        </div>
      ) : byMass ? (
        <div className="two">
          <QuantityField
            label="Mass with its film"
            kind="mass"
            valueSi={coatedKg}
            units={['g', 'oz']}
            limits={{ low: 1e-5, high: 1000 }}
            emptyMeans="not weighed"
            onChange={(value) => weigh(value, strippedKg)}
          />
          <QuantityField
            label="Mass after stripping"
            kind="mass"
            valueSi={strippedKg}
            units={['g', 'oz']}
            limits={{ low: 1e-5, high: 1000 }}
            emptyMeans="not weighed"
            onChange={(value) => weigh(coatedKg, value)}
          />
          <p className="caution">
            <strong>Chromium VI:</strong> the stripping solution of the standard is poisonous and causes
            cancer; leave it to a laboratory that may use it.
          </p>
        </div>
      ) : (
        <ActionButton look="small" onPress={() => setByMass(true)}>
          By mass loss instead
        </ActionButton>
      )}
    </>
  );
}

const MOST_SIDE_PX = 1600;

/** A camera's picture at a size that shows what matters and leaves room for thousands. */
async function smaller(file: File): Promise<Uint8Array | null> {
  try {
    const picture = await createImageBitmap(file);
    const scale = Math.min(1, MOST_SIDE_PX / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.85));
    return blob ? new Uint8Array(await blob.arrayBuffer()) : null;
  } catch {
    return null;
  }
}

function Photos({
  record,
  onColour,
}: {
  readonly record: RunRecord;
  readonly onColour: (lab: RunRecord['lab']) => void;
}) {
  const { runs, store } = useServices();
  const [photos, setPhotos] = useState<readonly (PhotoRow & { readonly url: string })[]>([]);
  const [version, setVersion] = useState(0);
  const chooser = useRef<HTMLInputElement>(null);
  useEffect(() => {
    let urls: string[] = [];
    let stopped = false;
    void runs.database.photos
      .where('ownerId')
      .equals(record.id)
      .toArray()
      .then((rows) => {
        if (stopped) return;
        const shown = rows.map((row) => ({
          ...row,
          url: URL.createObjectURL(new Blob([row.bytes.slice()], { type: row.type })),
        }));
        urls = shown.map(({ url }) => url);
        setPhotos(shown);
      });
    return () => {
      stopped = true;
      urls.forEach((url) => URL.revokeObjectURL(url));
    };
  }, [runs, record.id, version]);
  const add = async (file: File): Promise<void> => {
    const bytes = await smaller(file);
    if (!bytes) {
      return notify(store, {
        code: 'photo-unreadable',
        message: `“${file.name}” is no picture this program can read.`,
        remedy: 'Choose a JPEG or PNG.',
      });
    }
    try {
      await runs.database.photos.put({ id: runs.newId(), ownerId: record.id, bytes, type: 'image/jpeg' });
      setVersion(version + 1);
    } catch (fault) {
      notify(store, storageFailure(fault));
    }
  };
  const colourAt = async (url: string, event: React.MouseEvent<HTMLImageElement>): Promise<void> => {
    const box = event.currentTarget.getBoundingClientRect();
    const picture = await createImageBitmap(await (await fetch(url)).blob());
    const x = Math.floor(((event.clientX - box.left) / box.width) * picture.width);
    const y = Math.floor(((event.clientY - box.top) / box.height) * picture.height);
    const canvas = document.createElement('canvas');
    canvas.width = canvas.height = 9;
    const context = canvas.getContext('2d');
    if (!context) return;
    context.drawImage(picture, x - 4, y - 4, 9, 9, 0, 0, 9, 9);
    const { data } = context.getImageData(0, 0, 9, 9);
    const mean = [0, 0, 0];
    for (let i = 0; i < data.length; i += 4)
      for (let c = 0; c < 3; c++) mean[c]! += data[i + c]! / (data.length / 4);
    onColour(labFromSrgb(mean[0]! / 255, mean[1]! / 255, mean[2]! / 255));
  };
  const { lab } = record;
  return (
    <>
      <div className="row">
        <ActionButton look="small" onPress={() => chooser.current?.click()}>
          Add a photo…
        </ActionButton>
        <input
          ref={chooser}
          type="file"
          accept="image/*"
          hidden
          aria-label="Photo"
          onChange={(event) => {
            const file = event.target.files?.[0];
            event.target.value = '';
            if (file) void add(file);
          }}
        />
        {photos.length > 0 ? (
          <span className="soft">Click the part’s colour in a photo to keep it.</span>
        ) : null}
        {lab ? (
          <span className="soft">
            L* {lab.l.toFixed(0)}, a* {lab.a.toFixed(0)}, b* {lab.b.toFixed(0)} by the camera, not measured
          </span>
        ) : null}
      </div>
      {photos.length > 0 ? (
        <ul className="photo-strip">
          {photos.map((photo, index) => (
            <li key={photo.id}>
              <img
                src={photo.url}
                alt={`Photo ${index + 1} of this run`}
                onClick={(event) => void colourAt(photo.url, event)}
              />
              <ActionButton
                look="small"
                onPress={() => void runs.database.photos.delete(photo.id).then(() => setVersion(version + 1))}
              >
                Remove<span className="visually-hidden"> photo {index + 1}</span>
              </ActionButton>
            </li>
          ))}
        </ul>
      ) : null}
    </>
  );
}
