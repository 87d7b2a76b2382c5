import { useState } from 'react';
import { importLog, type ImportedLog } from '../../core/run/import-log.ts';
import { guessLogColumns, type LogColumns } from '../../core/run/log-columns.ts';
import { logDoubts } from '../../core/run/log-doubts.ts';
import { readLogTable, type LogTable } from '../../core/run/log-table.ts';
import type { Failure } from '../../core/result.ts';
import { useRun, useServices } from '../app/services.ts';
import { notify } from '../state/notices.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

interface OpenLog {
  readonly name: string;
  readonly text: string;
  readonly table: LogTable;
  readonly columns: LogColumns;
}

const NONE = 'none';
type TimeForm = LogColumns['time']['unit'];
const TIME_FORMS: readonly { readonly id: TimeForm; readonly label: string }[] = [
  { id: 's', label: 'seconds' },
  { id: 'ms', label: 'milliseconds' },
  { id: 'min', label: 'minutes' },
  { id: 'h', label: 'hours' },
  { id: 'min:s', label: 'min:s or h:min:s, counted from the start' },
  { id: 'clock', label: 'h:min or h:min:s, a clock’s too' },
];
const UNSURE_CODE = 'log-time-unsure';
/** In the list only as long as nobody has said which. */
const UNSURE = { id: 'unsure', label: 'min:s or h:min? Choose here' } as const;

/** A logger's file put into the run; which column is what can be set right before it is taken. */
export function RunImport() {
  const { runs, store } = useServices();
  const [log, setLog] = useState<OpenLog | null>(null);
  const [said, setSaid] = useState<Failure | null>(null);
  const [startS, setStartS] = useState(0);
  const plan = useRun((state) => state.record?.plan);
  const wantedC = plan ? plan.chargePerVolumeCPerM3 * plan.areaM2 * plan.thicknessM : null;
  const open = async (file: File): Promise<void> => {
    const text = await file.text();
    const table = readLogTable(text);
    if (!table.ok) {
      setLog(null);
      return setSaid(table.error);
    }
    setSaid(null);
    const first: LogColumns = {
      time: { column: 0, unit: 's' },
      voltage: { column: Math.min(1, table.value.columns - 1), unit: 'V' },
      current: { column: Math.min(2, table.value.columns - 1), unit: 'A' },
      temperature: null,
    };
    setLog({
      name: file.name,
      text,
      table: table.value,
      columns: guessLogColumns(table.value, wantedC) ?? first,
    });
  };
  const read = log ? importLog(log.text, { columns: log.columns }) : null;
  return (
    <>
      <label className="field">
        <span className="field-label">Log file</span>
        <input
          className="file-choice"
          type="file"
          accept=".csv,.txt,.tsv,.log"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file) void open(file);
          }}
        />
      </label>
      {said ? <MessageCard level="stop" message={said.message} remedy={said.remedy} /> : null}
      {log ? (
        <Columns
          log={log}
          unsure={read?.ok === false && read.error.code === UNSURE_CODE ? read.error : null}
          onChange={(columns) => setLog({ ...log, columns })}
        />
      ) : null}
      {log && read ? (
        read.ok ? (
          <>
            <Preview log={read.value} />
            {logDoubts(read.value.readings, wantedC).map(({ code, message, remedy }) => (
              <MessageCard key={code} level="check" message={message} remedy={remedy} />
            ))}
            <QuantityField
              label="The log’s zero lies, after power on"
              kind="time"
              valueSi={startS}
              units={['min', 'min']}
              limits={{ low: -86_400, high: 86_400 }}
              onChange={(value) => value !== null && setStartS(value)}
            />
            <ActionButton
              onPress={() => {
                const joined = runs.recorder.joinLog(read.value.readings, startS, log.name);
                if (joined.ok) setLog(null);
                else notify(store, joined.error);
              }}
            >
              Take these {read.value.readings.tS.length} readings
            </ActionButton>
          </>
        ) : read.error.code === UNSURE_CODE ? null : (
          <MessageCard level="stop" message={read.error.message} remedy={read.error.remedy} />
        )
      ) : null}
    </>
  );
}

function Columns({
  log,
  unsure,
  onChange,
}: {
  readonly log: OpenLog;
  /** The times may be one or the other, and must be said here. */
  readonly unsure: Failure | null;
  readonly onChange: (columns: LogColumns) => void;
}) {
  const { table, columns } = log;
  const options = Array.from({ length: table.columns }, (_, i) => ({
    id: String(i),
    label: `${i + 1}: ${table.header?.[i] ?? table.rows[0]?.cells[i] ?? ''}`,
  }));
  return (
    <>
      <ChooseFrom
        label="Time"
        options={options}
        chosen={String(columns.time.column)}
        onChoose={(id) => onChange({ ...columns, time: { ...columns.time, column: Number(id) } })}
      />
      <ChooseFrom
        label="Time is in"
        options={columns.time.unit === 'unsure' ? [UNSURE, ...TIME_FORMS] : TIME_FORMS}
        chosen={columns.time.unit}
        onChoose={(unit) => onChange({ ...columns, time: { ...columns.time, unit } })}
      />
      {unsure ? <MessageCard level="stop" message={unsure.message} remedy={unsure.remedy} /> : null}
      <div className="two">
        <ChooseFrom
          label="Volts"
          options={options}
          chosen={String(columns.voltage.column)}
          onChoose={(id) => onChange({ ...columns, voltage: { ...columns.voltage, column: Number(id) } })}
        />
        <ChooseFrom
          label="Unit"
          options={['V', 'mV'].map((id) => ({ id, label: id }))}
          chosen={columns.voltage.unit}
          onChoose={(unit) => onChange({ ...columns, voltage: { ...columns.voltage, unit } })}
        />
        <ChooseFrom
          label="Amps"
          options={options}
          chosen={String(columns.current.column)}
          onChoose={(id) => onChange({ ...columns, current: { ...columns.current, column: Number(id) } })}
        />
        <ChooseFrom
          label="Unit"
          options={['A', 'mA'].map((id) => ({ id, label: id }))}
          chosen={columns.current.unit}
          onChoose={(unit) => onChange({ ...columns, current: { ...columns.current, unit } })}
        />
        <ChooseFrom
          label="Bath temperature"
          options={[{ id: NONE, label: 'not in it' }, ...options]}
          chosen={columns.temperature ? String(columns.temperature.column) : NONE}
          onChoose={(id) =>
            onChange({
              ...columns,
              temperature:
                id === NONE ? null : { column: Number(id), unit: columns.temperature?.unit ?? '°C' },
            })
          }
        />
        {columns.temperature ? (
          <ChooseFrom
            label="Unit"
            options={['°C', '°F', 'K'].map((id) => ({ id, label: id }))}
            chosen={columns.temperature.unit}
            onChoose={(unit) =>
              onChange({ ...columns, temperature: { column: columns.temperature!.column, unit } })
            }
          />
        ) : null}
      </div>
    </>
  );
}

function Preview({ log }: { readonly log: ImportedLog }) {
  const { readings, problems } = log;
  const last = readings.tS.length - 1;
  return (
    <p className="soft" role="status">
      {readings.tS.length} readings from {(readings.tS[0]! / 60).toFixed(1)} to{' '}
      {(readings.tS[last]! / 60).toFixed(1)} min; first {readings.voltageV[0]!.toFixed(2)} V{' '}
      {readings.currentA[0]!.toFixed(2)} A, last {readings.voltageV[last]!.toFixed(2)} V{' '}
      {readings.currentA[last]!.toFixed(2)} A.
      {problems.length > 0
        ? ` ${problems.length} lines left out, first line ${problems[0]!.line}: ${problems[0]!.message}.`
        : ''}
      {readings.origin === 'simulated' ? ' The file says it is simulated.' : ''}
    </p>
  );
}
