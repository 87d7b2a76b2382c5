import { useEffect, useState } from 'react';
import { loadTroubleFacts } from '../../core/job/load-trouble-facts.ts';
import type { TroubleFacts } from '../../core/finish/trouble-facts.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { useServices } from '../app/services.ts';

/**
 * What the job of a run knows about itself: as it was when the run began, plan, hanging and bath included. A run from before that was
 * kept has its job alone to ask; nothing until that is read, or where it can't be.
 */
export function useRunJobFacts({ id, jobFacts }: Pick<RunRecord, 'id' | 'jobFacts'>): TroubleFacts {
  const { store } = useServices().runs;
  const [found, setFound] = useState<{ readonly of: string; readonly facts: TroubleFacts } | null>(null);
  const isKept = jobFacts !== null;
  useEffect(() => {
    if (isKept) return undefined;
    let asked = true;
    void store
      .job(id)
      .then((job) => {
        if (asked && job.ok) {
          setFound({ of: id, facts: loadTroubleFacts(job.value.job, null, null, 0, {}) });
        }
      })
      .catch(() => {}); // Without the job the run's own figures count.
    return () => {
      asked = false;
    };
  }, [id, isKept, store]);
  if (jobFacts !== null) return jobFacts;
  return found?.of === id ? found.facts : {};
}
