import { describe, expect, it } from 'vitest';
import { recordChange, redo, startHistory, undo } from '../../../core/job/history.ts';

describe('undo and redo', () => {
  it('walk back and forth, and a new change forgets what was undone', () => {
    let history = startHistory('a', 'start');
    history = recordChange(history, 'b', 'to b');
    history = recordChange(history, 'c', 'to c');
    history = undo(undo(history));
    expect(history.present.document).toBe('a');
    expect(undo(history)).toBe(history);
    history = redo(history);
    expect(history.present).toEqual({ label: 'to b', document: 'b' });
    history = recordChange(history, 'd', 'to d');
    expect(redo(history)).toBe(history);
    expect(undo(history).present.document).toBe('b');
  });

  it('join changes of one field, but not across another change or an undo', () => {
    let history = startHistory(0, 'start');
    history = recordChange(history, 1, 'type', 'field');
    history = recordChange(history, 2, 'type', 'field');
    expect(history.past).toHaveLength(1);
    history = recordChange(history, 3, 'else');
    history = recordChange(history, 4, 'type', 'field');
    expect(history.past).toHaveLength(3);
    history = recordChange(undo(history), 5, 'type', 'field');
    expect(undo(history).present.document).toBe(3);
  });

  it('add no step for no change', () => {
    const history = startHistory('same', 'start');
    expect(recordChange(history, 'same', 'nothing')).toBe(history);
  });
});
