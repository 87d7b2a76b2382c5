import { useCallback, useState } from 'react';
import type { Lab } from '../../core/finish/colour.ts';
import type { DipRecord } from '../../core/shop/dip-record.ts';
import { jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { photoBytes } from '../state/read-photo.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';
import { LabFields } from './lab-fields.tsx';
import { PhotoColourPicker } from './photo-colour-picker.tsx';
import { dyeStrength } from '../../core/finish/dye-recipe.ts';

interface NewDipProps {
  readonly dyeId: string;
  readonly dyeName: string;
}

/** One dip noted: what was done and the colour that came out. */
export function NewDip({ dyeId, dyeName }: NewDipProps) {
  const { store, wetShop } = useServices();
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const [timeS, setTimeS] = useState<number | null>(null);
  const [temperatureK, setTemperatureK] = useState(job.finish.dye.temperatureK);
  const [thicknessM, setThicknessM] = useState(job.process.thicknessM);
  const [dyeKgPerM3, setStrength] = useState(dyeStrength(job.finish.dye.recipe));
  const [ph, setPh] = useState(job.finish.dye.ph);
  const [from, setFrom] = useState<'typed' | 'photo'>('typed');
  const [colour, setColour] = useState<Lab | null>(null);
  const [photo, setPhoto] = useState<HTMLCanvasElement | null>(null);
  const [note, setNote] = useState('');
  const takePhoto = useCallback((lab: Lab | null, canvas: HTMLCanvasElement | null) => {
    setColour(lab);
    setPhoto(canvas);
  }, []);

  const keep = async (): Promise<void> => {
    if (timeS === null || colour === null) return;
    const bytes = from === 'photo' && photo ? await photoBytes(photo) : null;
    const id = crypto.randomUUID();
    const photoId = bytes ? crypto.randomUUID() : null;
    const dip: DipRecord = {
      id,
      name: `${dyeName}, ${Math.round(timeS / 6) / 10} min`,
      at: new Date().toISOString(),
      dyeId,
      alloy: job.parts.find((part) => part.id === activeId)?.alloy ?? '',
      timeS,
      temperatureK,
      thicknessM,
      ph,
      dyeKgPerM3,
      colour,
      colourFrom: from,
      note: note.trim(),
      photoId,
    };
    try {
      if (bytes && photoId) await wetShop.keepPhoto({ id: photoId, ownerId: id, bytes, type: 'image/jpeg' });
      await wetShop.dips.put(dip, Date.now());
    } catch {
      return notify(store, {
        code: 'dip-not-kept',
        message: 'The dip could not be kept in the shop’s book.',
        remedy: 'Make room on the disk, or let this page keep data, and note it again.',
      });
    }
    setTimeS(null);
    setNote('');
    if (from === 'typed') setColour(null);
  };

  return (
    <div role="group" aria-label="New dip" className="stack">
      <div className="two">
        <QuantityField
          label="Minutes in the dye"
          kind="time"
          valueSi={timeS}
          units={['min', 'min']}
          limits={{ low: 0, high: 36_000 }}
          emptyMeans="0 for a bare film"
          isDraft
          onChange={setTimeS}
        />
        <QuantityField
          label="Dye was at"
          kind="temperature"
          valueSi={temperatureK}
          units={['°C', '°F']}
          limits={{ low: 273.15, high: 373.15 }}
          onChange={(value) => value !== null && setTemperatureK(value)}
        />
        <QuantityField
          label="Film was"
          kind="length"
          valueSi={thicknessM}
          units={['µm', 'mil']}
          limits={{ low: 1e-7, high: 1e-3 }}
          onChange={(value) => value !== null && setThicknessM(value)}
        />
        <QuantityField
          label="Dye made up with"
          kind="massConcentration"
          valueSi={dyeKgPerM3}
          units={['g/L', 'oz/US gal']}
          limits={{ low: 0.01, high: 200 }}
          emptyMeans="not known"
          onChange={setStrength}
        />
        <QuantityField
          label="pH of the dye"
          kind="count"
          valueSi={ph}
          units={['', '']}
          limits={{ low: 0, high: 14 }}
          emptyMeans="not measured"
          onChange={setPh}
        />
      </div>
      <ChoiceRow
        label="Colour of the dip"
        choices={[
          { id: 'typed', label: 'Type the colour' },
          { id: 'photo', label: 'From a photo' },
        ]}
        chosen={from}
        onChoose={(id) => {
          setFrom(id);
          setColour(null);
          setPhoto(null);
        }}
      />
      {from === 'photo' ? <PhotoColourPicker onColour={takePhoto} /> : null}
      {from === 'typed' || colour ? <LabFields value={colour} onChange={setColour} /> : null}
      <TextEntry label="Note on this dip" value={note} isDraft onChange={setNote} />
      <ActionButton look="main" isDisabled={timeS === null || colour === null} onPress={() => void keep()}>
        Note this dip
      </ActionButton>
    </div>
  );
}
