import { useEffect, useRef, useState } from 'react';
import type { Lab } from '../../core/finish/colour.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { useServices } from '../app/services.ts';
import { dropNotices, notify, notifyOfFile } from '../state/notices.ts';
import { storageFailure } from '../state/run-store.ts';
import type { PhotoRow } from '../state/shop-database.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { RunPhotoColour } from './run-photo-colour.tsx';

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

/** Photos of what came out; one with white paper beside the part gives the colour. */
export function RunPhotos({
  record,
  onColour,
}: {
  readonly record: RunRecord;
  readonly onColour: (lab: Lab) => void;
}) {
  const { runs, store } = useServices();
  const [photos, setPhotos] = useState<readonly (PhotoRow & { readonly url: string })[]>([]);
  const [version, setVersion] = useState(0);
  const [readingId, setReadingId] = useState<string | null>(null);
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
      return notifyOfFile(store, {
        code: 'photo-unreadable',
        message: `“${file.name}” is no picture this program can read.`,
        remedy: 'Choose a JPEG or PNG.',
      });
    }
    try {
      await runs.database.photos.put({ id: runs.newId(), ownerId: record.id, bytes, type: 'image/jpeg' });
      setVersion(version + 1);
      dropNotices(store, 'photo-unreadable');
    } catch (fault) {
      notify(store, storageFailure(fault));
    }
  };
  const { lab, labFrom } = record;
  const reading = photos.find(({ id }) => id === readingId);
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
          <span className="soft">A photo with white paper beside the part gives its colour.</span>
        ) : null}
        {lab ? (
          <span className="soft">
            L* {lab.l.toFixed(0)}, a* {lab.a.toFixed(0)}, b* {lab.b.toFixed(0)},{' '}
            {labFrom === 'camera'
              ? 'as the camera saw it: lamp and exposure are in it'
              : 'by the white paper in the photo; some ΔE of the camera are in it'}
          </span>
        ) : null}
      </div>
      {photos.length > 0 ? (
        <ul className="photo-strip">
          {photos.map((photo, index) => (
            <li key={photo.id}>
              <img src={photo.url} alt={`Photo ${index + 1} of this run`} />
              <ActionButton look="small" onPress={() => setReadingId(photo.id)}>
                Read the colour<span className="visually-hidden"> in photo {index + 1}</span>…
              </ActionButton>
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
      {reading ? (
        <RunPhotoColour
          key={reading.id}
          url={reading.url}
          onKeep={(read) => {
            onColour(read);
            setReadingId(null);
          }}
          onLeave={() => setReadingId(null)}
        />
      ) : null}
    </>
  );
}
