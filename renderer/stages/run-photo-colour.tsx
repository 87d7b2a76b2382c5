import { useEffect, useState } from 'react';
import type { Lab } from '../../core/finish/colour.ts';
import type { Failure } from '../../core/result.ts';
import { hexOfLab } from '../state/dye-accent.ts';
import { readPhoto, type ReadPhoto } from '../state/read-photo.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { PhotoColourPicker } from './photo-colour-picker.tsx';

interface RunPhotoColourProps {
  readonly url: string;
  readonly onKeep: (lab: Lab) => void;
  readonly onLeave: () => void;
}

/** The colour that came out of a run, read in one of its photos by the white paper beside the part. */
export function RunPhotoColour({ url, onKeep, onLeave }: RunPhotoColourProps) {
  const [photo, setPhoto] = useState<ReadPhoto | null>(null);
  const [fault, setFault] = useState<Failure | null>(null);
  const [lab, setLab] = useState<Lab | null>(null);
  useEffect(() => {
    let left = false;
    void fetch(url)
      .then((answer) => answer.blob())
      .then(readPhoto)
      .then((got) => {
        if (left) return;
        if (got.ok) setPhoto(got.value);
        else setFault(got.error);
      });
    return () => {
      left = true;
    };
  }, [url]);
  return (
    <div className="stack" role="group" aria-label="The colour that came out">
      {fault ? <MessageCard level="check" message={fault.message} remedy={fault.remedy} /> : null}
      {photo ? <PhotoColourPicker given={photo} onColour={setLab} /> : null}
      <div className="row">
        {lab ? <span className="swatch" style={{ background: hexOfLab(lab) }} /> : null}
        <ActionButton look="main" isDisabled={lab === null} onPress={() => lab && onKeep(lab)}>
          {lab
            ? `Keep L* ${lab.l.toFixed(0)}, a* ${lab.a.toFixed(0)}, b* ${lab.b.toFixed(0)}`
            : 'Keep this colour'}
        </ActionButton>
        <ActionButton onPress={onLeave}>Leave it</ActionButton>
      </div>
    </div>
  );
}
