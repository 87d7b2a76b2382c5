import { useState } from 'react';
import { supplyLinkSchema, type SupplyRecord } from '../../core/shop/supply-record.ts';
import { SCPI_PROTOCOL, supplyProtocol } from '../../core/run/supply-protocol.ts';
import { useApp, useRun, useServices, useShelf, useSupplyDesk } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { storageFailure } from '../state/run-store.ts';
import { GAP_REMEDIES, GAP_WORDS } from '../state/supply-desk.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';

/** Reading a supply over a serial line. Only questions are ever sent. */
export function RunSupply() {
  const { runs, store } = useServices();
  const { records } = useShelf(runs.supplies);
  const desk = useSupplyDesk((state) => state);
  const { record, role } = useRun((view) => view);
  const job = useApp(jobOf);
  const [chosenId, setChosenId] = useState<string | null>(null);
  const [editing, setEditing] = useState(false);
  if (!record || role !== 'owner') return null;
  const supply =
    records.find(({ id }) => id === (chosenId ?? record.supplyId)) ??
    records.find(({ link }) => link) ??
    records[0];
  const add = async (): Promise<void> => {
    const id = crypto.randomUUID();
    const made: SupplyRecord = {
      id,
      name: `Supply ${records.length + 1}`,
      currentLimitA: job.process.supplyCurrentLimitA ?? 10,
      voltageLimitV: job.process.supplyVoltageLimitV ?? 30,
      link: supplyLinkSchema.parse({}),
    };
    await runs.supplies.put(made, Date.now()).catch((fault: unknown) => notify(store, storageFailure(fault)));
    setChosenId(id);
    setEditing(true);
  };
  const connect = async (from: SupplyRecord): Promise<void> => {
    const connected = await runs.desk.connect(from);
    if (!connected.ok) notify(store, connected.error, 'check');
  };
  return (
    <section className="stack" aria-label="Live from the supply">
      <h3>Live from the supply</h3>
      {runs.desk.available ? null : (
        <p className="soft">
          This browser can’t reach serial ports. The desktop program and Chromium browsers can; typed readings
          work everywhere.
        </p>
      )}
      {desk.status === 'live' || desk.status === 'gap' || desk.status === 'connecting' ? (
        <>
          <p role="status">
            <strong>{desk.supplyName}</strong>{' '}
            {desk.status === 'live' && desk.last
              ? `${desk.last.voltageV.toFixed(2)} V, ${desk.last.currentA.toFixed(2)} A`
              : desk.status === 'gap' && desk.gap
                ? ''
                : 'connecting…'}
          </p>
          {desk.gap ? (
            <MessageCard
              level="check"
              message={GAP_WORDS[desk.gap.why]}
              remedy={GAP_REMEDIES[desk.gap.why]}
            />
          ) : null}
          {desk.identity ? <p className="soft">{desk.identity}</p> : null}
          {desk.complaint ? <p className="soft">{desk.complaint}</p> : null}
          <ActionButton look="small" onPress={() => void runs.desk.disconnect()}>
            Stop reading it
          </ActionButton>
        </>
      ) : runs.desk.available ? (
        <>
          {records.length > 1 && supply ? (
            <ChooseFrom
              label="Supply"
              options={records.map(({ id, name }) => ({ id, label: name }))}
              chosen={supply.id}
              onChoose={setChosenId}
            />
          ) : null}
          <div className="row">
            {supply ? (
              <>
                <ActionButton isDisabled={desk.status === 'choosing'} onPress={() => void connect(supply)}>
                  Read {supply.name}…
                </ActionButton>
                <ActionButton look="small" aria-expanded={editing} onPress={() => setEditing(!editing)}>
                  Its settings
                </ActionButton>
              </>
            ) : null}
            <ActionButton look="small" onPress={() => void add()}>
              Add a supply
            </ActionButton>
          </div>
          {editing && supply ? <SupplySettings key={supply.id} supply={supply} /> : null}
          <p className="soft">It is only asked for volts and amps; nothing is ever set on it.</p>
        </>
      ) : null}
    </section>
  );
}

const BAUDS = ['1200', '2400', '4800', '9600', '19200', '38400', '57600', '115200'] as const;
const LINE_ENDS = [
  { id: '\n', label: 'LF' },
  { id: '\r', label: 'CR' },
  { id: '\r\n', label: 'CR LF' },
] as const;

function SupplySettings({ supply }: { readonly supply: SupplyRecord }) {
  const { runs, store } = useServices();
  const link = supply.link ?? supplyLinkSchema.parse({});
  const { protocol } = link;
  const keep = (next: SupplyRecord): void => {
    runs.supplies.put(next, Date.now()).catch((fault: unknown) => notify(store, storageFailure(fault)));
  };
  const change = (next: Partial<typeof link>): void => keep({ ...supply, link: { ...link, ...next } });
  const ask = (next: Partial<typeof protocol>): void => change({ protocol: { ...protocol, ...next } });
  const checked = (next: (text: string) => Partial<typeof protocol>) => (text: string) =>
    supplyProtocol({ ...protocol, ...next(text) });
  const orNone = (text: string): string | null => (text.trim() === '' ? null : text.trim());
  return (
    <div className="record-card">
      <TextEntry
        label="Name"
        value={supply.name}
        onChange={(name) => name.trim() !== '' && keep({ ...supply, name })}
      />
      <ChooseFrom
        label="Speed, baud"
        options={BAUDS.map((id) => ({ id: String(id), label: id }))}
        chosen={String(link.baudRate)}
        onChoose={(id) => change({ baudRate: Number(id) })}
      />
      <ChooseFrom
        label="Line end"
        options={LINE_ENDS}
        chosen={protocol.lineEnd}
        onChoose={(lineEnd) => ask({ lineEnd })}
      />
      <TextEntry
        label="Question for its name"
        value={protocol.identifyQuery ?? ''}
        hint="empty where it knows none"
        check={checked((text) => ({ identifyQuery: orNone(text) }))}
        onChange={(text) => ask({ identifyQuery: orNone(text) })}
      />
      <TextEntry
        label="Question for the volts"
        value={protocol.voltageQuery}
        check={checked((voltageQuery) => ({ voltageQuery }))}
        onChange={(voltageQuery) => ask({ voltageQuery })}
      />
      <TextEntry
        label="Pattern of its answer, volts"
        value={protocol.voltageAnswer.pattern}
        hint="a regular expression; the group in parentheses is the number"
        check={checked((pattern) => ({ voltageAnswer: { ...protocol.voltageAnswer, pattern } }))}
        onChange={(pattern) => ask({ voltageAnswer: { ...protocol.voltageAnswer, pattern } })}
      />
      <TextEntry
        label="Question for the amps"
        value={protocol.currentQuery ?? ''}
        hint="empty where the first answer has both"
        check={checked((text) => ({ currentQuery: orNone(text) }))}
        onChange={(text) => ask({ currentQuery: orNone(text) })}
      />
      <TextEntry
        label="Pattern of its answer, amps"
        value={protocol.currentAnswer.pattern}
        check={checked((pattern) => ({ currentAnswer: { ...protocol.currentAnswer, pattern } }))}
        onChange={(pattern) => ask({ currentAnswer: { ...protocol.currentAnswer, pattern } })}
      />
      <TextEntry
        label="Question for its errors"
        value={protocol.errorQuery ?? ''}
        hint="empty where it knows none"
        check={checked((text) => ({ errorQuery: orNone(text) }))}
        onChange={(text) => ask({ errorQuery: orNone(text) })}
      />
      <TextEntry
        label="Ask every, seconds"
        value={String(protocol.intervalS)}
        check={checked((text) => ({ intervalS: Number(text) }))}
        onChange={(text) => ask({ intervalS: Number(text) })}
      />
      <ActionButton look="small" onPress={() => change({ protocol: SCPI_PROTOCOL })}>
        Back to SCPI
      </ActionButton>
    </div>
  );
}
