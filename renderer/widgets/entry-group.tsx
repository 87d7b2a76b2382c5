import { createContext, useCallback, useContext, useEffect, useId, useState, type ReactNode } from 'react';

/** How a field stands: taken, typed and not taken yet, or refused. */
export type EntryStanding = 'taken' | 'open' | 'wrong';

type Report = (fieldId: string, standing: EntryStanding) => void;

const ReportContext = createContext<Report | null>(null);
const StandingContext = createContext<EntryStanding>('taken');

/**
 * Fields, and what is worked out from them. While one of the fields holds a text that was not taken, what stands in
 * `OnceTaken` is not shown: amounts of acid for another entry than the one in sight could be poured.
 */
export function EntryGroup({ children }: { children: ReactNode }) {
  const [standings, setStandings] = useState<Readonly<Record<string, EntryStanding>>>({});
  const report = useCallback<Report>((fieldId, standing) => {
    setStandings((known) => {
      if ((known[fieldId] ?? 'taken') === standing) return known;
      const { [fieldId]: _old, ...others } = known;
      return standing === 'taken' ? others : { ...others, [fieldId]: standing };
    });
  }, []);
  const all = Object.values(standings);
  const worst = all.includes('wrong') ? 'wrong' : all.includes('open') ? 'open' : 'taken';
  return (
    <ReportContext value={report}>
      <StandingContext value={worst}>{children}</StandingContext>
    </ReportContext>
  );
}

/** Tells the group around a field, if there is one, how the field stands. */
export function useReportStanding(standing: EntryStanding): void {
  const report = useContext(ReportContext);
  const fieldId = useId();
  useEffect(() => {
    report?.(fieldId, standing);
    return () => report?.(fieldId, 'taken');
  }, [report, fieldId, standing]);
}

/** What follows from the fields of the group, once all of them are taken; until then, why it is not there. */
export function OnceTaken({ what, children }: { what: string; children: ReactNode }) {
  const standing = useContext(StandingContext);
  if (standing === 'taken') return children;
  return (
    <p className="soft" role="status">
      {standing === 'wrong'
        ? `${what} come back once the entry marked above is put right.`
        : `${what} follow once the entry above is taken: press Enter.`}
    </p>
  );
}
