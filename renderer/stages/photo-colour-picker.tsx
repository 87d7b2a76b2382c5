import { useEffect, useMemo, useRef, useState, type PointerEvent } from 'react';
import { FileTrigger } from 'react-aria-components';
import type { Lab } from '../../core/finish/colour.ts';
import { photoColour, type Patch, type PixelImage } from '../../core/finish/photo-colour.ts';
import type { Failure } from '../../core/result.ts';
import { readPhoto, type ReadPhoto } from '../state/read-photo.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

type Which = 'part' | 'white';
/** Middle of a patch as shares of the picture's width and height. */
interface Spot {
  readonly x: number;
  readonly y: number;
}

const WORD: Readonly<Record<Which, string>> = { part: 'Part', white: 'White paper' };

interface PhotoColourPickerProps {
  /** The photo to read; without one it is chosen here. */
  readonly given?: ReadPhoto;
  readonly onColour: (lab: Lab | null, photo: HTMLCanvasElement | null) => void;
}

/** A colour from a photo with white paper in the same light: click the part, click the paper. */
export function PhotoColourPicker({ given, onColour }: PhotoColourPickerProps) {
  const [photo, setPhoto] = useState<ReadPhoto | null>(given ?? null);
  const [fault, setFault] = useState<Failure | null>(null);
  const [which, setWhich] = useState<Which>('part');
  const [spots, setSpots] = useState<Record<Which, Spot>>({
    part: { x: 0.3, y: 0.5 },
    white: { x: 0.7, y: 0.5 },
  });
  const [size, setSize] = useState(0.08);
  const read = useMemo(() => {
    if (!photo) return null;
    const patch = (spot: Spot): Patch => patchAt(photo.image, spot, size);
    return photoColour(photo.image, patch(spots.part), patch(spots.white));
  }, [photo, spots, size]);
  useEffect(() => {
    onColour(read?.ok ? read.value.lab : null, photo?.canvas ?? null);
  }, [read, photo, onColour]);
  const open = async (files: FileList | null): Promise<void> => {
    const file = files?.[0];
    if (!file) return;
    const got = await readPhoto(file);
    setFault(got.ok ? null : got.error);
    if (got.ok) setPhoto(got.value);
  };
  return (
    <section className="stack" aria-label="Colour from a photo">
      {given ? null : (
        <FileTrigger acceptedFileTypes={['image/*']} onSelect={(files) => void open(files)}>
          <ActionButton>{photo ? 'Another photo…' : 'Photo with white paper…'}</ActionButton>
        </FileTrigger>
      )}
      {fault ? <MessageCard level="check" message={fault.message} remedy={fault.remedy} /> : null}
      {photo ? (
        <>
          <ChoiceRow
            label="The next click marks"
            choices={(['part', 'white'] as const).map((id) => ({ id, label: WORD[id] }))}
            chosen={which}
            onChoose={setWhich}
          />
          <Picture
            photo={photo}
            spots={spots}
            size={size}
            onSpot={(spot) => setSpots({ ...spots, [which]: spot })}
          />
          <div className="two photo-fields">
            {(['x', 'y'] as const).map((axis) => (
              <QuantityField
                key={axis}
                label={`${WORD[which]}, from ${axis === 'x' ? 'the left' : 'the top'}`}
                kind="fraction"
                valueSi={spots[which][axis]}
                units={['%', '%']}
                limits={{ low: 0, high: 1 }}
                onChange={(value) =>
                  value !== null && setSpots({ ...spots, [which]: { ...spots[which], [axis]: value } })
                }
              />
            ))}
            <QuantityField
              label="Size of the patches"
              kind="fraction"
              valueSi={size}
              units={['%', '%']}
              limits={{ low: 0.005, high: 0.5 }}
              onChange={(value) => value !== null && setSize(value)}
            />
          </div>
          {read && !read.ok ? (
            <MessageCard level="check" message={read.error.message} remedy={read.error.remedy} />
          ) : null}
          {read?.ok ? (
            <>
              {read.value.notes.map((note) => (
                <MessageCard key={note} level="check" message={note} remedy="" />
              ))}
              <p className="soft">
                How sure: the patch is even to ΔE {read.value.unevenness.toFixed(1)}. The paper takes out the
                light’s tint; the camera’s own error, some ΔE, stays, so compare within one shop.
              </p>
            </>
          ) : null}
        </>
      ) : (
        <p className="soft">
          Lay the part beside plain white paper in even daylight, no flash. The paper takes out the light’s
          tint; the camera’s own error stays, so compare within one shop.
        </p>
      )}
    </section>
  );
}

interface PictureProps {
  readonly photo: ReadPhoto;
  readonly spots: Readonly<Record<Which, Spot>>;
  readonly size: number;
  readonly onSpot: (spot: Spot) => void;
}

function Picture({ photo, spots, size, onSpot }: PictureProps) {
  const frame = useRef<HTMLDivElement>(null);
  useEffect(() => {
    frame.current?.prepend(photo.canvas);
    return () => photo.canvas.remove();
  }, [photo]);
  const click = (event: PointerEvent<HTMLDivElement>): void => {
    const box = event.currentTarget.getBoundingClientRect();
    const share = (at: number, from: number, length: number): number =>
      Math.min(1, Math.max(0, (at - from) / length));
    onSpot({
      x: share(event.clientX, box.left, box.width),
      y: share(event.clientY, box.top, box.height),
    });
  };
  const { width, height } = photo.image;
  return (
    <div
      ref={frame}
      className="photo-frame"
      role="img"
      aria-label="Photo with its two patches"
      onPointerDown={click}
    >
      {(['part', 'white'] as const).map((id) => {
        const patch = patchAt(photo.image, spots[id], size);
        const percent = (value: number, of: number): string => `${(100 * value) / of}%`;
        return (
          <div
            key={id}
            className="photo-patch"
            style={{
              left: percent(patch.x, width),
              top: percent(patch.y, height),
              width: percent(patch.width, width),
              height: percent(patch.height, height),
            }}
          >
            <span>{WORD[id]}</span>
          </div>
        );
      })}
    </div>
  );
}

/** A square patch around a spot, a share of the picture's shorter side, moved inside where it would stick out. */
function patchAt({ width, height }: PixelImage, spot: Spot, size: number): Patch {
  const side = Math.max(2, Math.min(width, height, Math.round(Math.min(width, height) * size)));
  const inside = (middle: number, length: number): number =>
    Math.min(length - side, Math.max(0, Math.round(middle * length - side / 2)));
  return { x: inside(spot.x, width), y: inside(spot.y, height), width: side, height: side };
}
