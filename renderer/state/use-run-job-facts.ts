import { useEffect, useState } from 'react';
import { troubleFacts } from '../../core/job/finish-plan.ts';
import type { TroubleFacts } from '../../core/finish/trouble-facts.ts';
import { useServices } from '../app/services.ts';

/** What the job of a run in the book knows about itself; nothing until it is read, or where it can't be. */
export function useRunJobFacts(runId: string): TroubleFacts {
  const { store } = useServices().runs;
  const [facts, setFacts] = useState<{ readonly of: string; readonly facts: TroubleFacts } | null>(null);
  useEffect(() => {
    let asked = true;
    void store
      .job(runId)
      .then((found) => {
        if (asked && found.ok) {
          const { job } = found.value;
          setFacts({ of: runId, facts: troubleFacts(job, null, null, job.parts[0]) });
        }
      })
      .catch(() => {}); // Without the job the run's own figures count.
    return () => {
      asked = false;
    };
  }, [runId, store]);
  return facts?.of === runId ? facts.facts : {};
}
