import { useState } from 'react';
import { doubtFilm } from '../../core/shop/doubt-film.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import { useApp } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** The film as it was measured: readings of an eddy-current gauge, or what the part lost when it was stripped. */
export function MeasuredFilms({
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
  const [unit, otherUnit] = system === 'us' ? (['mil', 'µm'] as const) : (['µm', 'mil'] as const);
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
              No, it is{' '}
              {doubt.meantM.map((valueM) => formatIn('length', valueM, otherUnit, 3).text).join(', ')}
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
