import { useState } from 'react';
import {
  Button,
  Header,
  Menu,
  MenuItem,
  MenuSection,
  MenuTrigger,
  Popover,
  Separator,
} from 'react-aria-components';
import type { MenuCommand, RecentJob } from '../../core/bridge/bridge.ts';
import { renameJob } from '../../core/job/edit-job.ts';
import { editJob, isUnsaved, jobOf, redoEdit, undoEdit } from '../state/app-store.ts';
import { openRecentJob } from '../state/open-files.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { runCommand } from './run-command.ts';
import { useApp, useServices } from './services.ts';

/** Job name, file menu, undo and redo, units and light. */
export function FileBar() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const unsaved = useApp(isUnsaved);
  const target = useApp((state) => state.target);
  const system = useApp((state) => state.unitSystem);
  return (
    <header className="file-bar">
      <FileMenu />
      <HistoryButtons />
      <div className="job-name">
        <input
          aria-label="Job name"
          value={job.name}
          onChange={(event) =>
            editJob(store, 'Job name', (j) => renameJob(j, event.target.value), 'job-name')
          }
        />
        <span className="soft" role="status">
          {unsaved ? '● not saved' : target ? `saved as ${target.name}` : ''}
        </span>
      </div>
      <ChoiceRow
        label="Units"
        choices={[
          { id: 'metric', label: 'Metric' },
          { id: 'us', label: 'US' },
        ]}
        chosen={system}
        onChoose={(unitSystem) => store.setState({ unitSystem })}
      />
      <ThemeMenu />
    </header>
  );
}

function FileMenu() {
  const services = useServices();
  const [recent, setRecent] = useState<readonly RecentJob[]>([]);
  const run = (key: React.Key): void => {
    const id = String(key);
    if (id.startsWith('recent:')) void openRecentJob(services, id.slice('recent:'.length));
    else runCommand(services, id as MenuCommand);
  };
  return (
    <MenuTrigger
      onOpenChange={(open) => {
        if (open) void services.bridge.recentJobs().then(setRecent);
      }}
    >
      <Button className="button">Job ▾</Button>
      <Popover className="popover" placement="bottom start">
        <Menu onAction={run} aria-label="Job">
          <MenuItem id="new" className="option">
            New job
          </MenuItem>
          <MenuItem id="model" className="option" textValue="Open a model">
            Open a model… <kbd>Ctrl O</kbd>
          </MenuItem>
          <MenuItem id="open" className="option" textValue="Open a job">
            Open a job…
          </MenuItem>
          <MenuItem id="save" className="option" textValue="Save">
            Save <kbd>Ctrl S</kbd>
          </MenuItem>
          <MenuItem id="save-as" className="option" textValue="Save as">
            Save as… <kbd>Ctrl ⇧ S</kbd>
          </MenuItem>
          {recent.length > 0 ? <Separator /> : null}
          {recent.length > 0 ? (
            <MenuSection>
              <Header className="option soft">Recent jobs</Header>
              {recent.map((entry) => (
                <MenuItem key={entry.id} id={`recent:${entry.id}`} className="option" textValue={entry.name}>
                  {entry.name} <kbd>{new Date(entry.openedAtMs).toLocaleDateString()}</kbd>
                </MenuItem>
              ))}
            </MenuSection>
          ) : null}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}

function HistoryButtons() {
  const { store } = useServices();
  const history = useApp((state) => state.history);
  const back = history.past.length > 0 ? history.present.label : null;
  const again = history.future[0]?.label ?? null;
  return (
    <>
      <ActionButton
        look="quiet"
        isDisabled={back === null}
        aria-label={back === null ? 'Undo' : `Undo: ${back}`}
        onPress={() => undoEdit(store)}
      >
        ↶ Undo
      </ActionButton>
      <ActionButton
        look="quiet"
        isDisabled={again === null}
        aria-label={again === null ? 'Redo' : `Redo: ${again}`}
        onPress={() => redoEdit(store)}
      >
        ↷ Redo
      </ActionButton>
    </>
  );
}

const THEMES = [
  { id: 'system', label: 'As the system' },
  { id: 'light', label: 'Light' },
  { id: 'dark', label: 'Dark' },
] as const;

function ThemeMenu() {
  const { store } = useServices();
  const theme = useApp((state) => state.theme);
  return (
    <MenuTrigger>
      <Button className="button quiet" aria-label="Light or dark">
        ◐
      </Button>
      <Popover className="popover" placement="bottom end">
        <Menu
          aria-label="Light or dark"
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[theme]}
          onSelectionChange={(keys) => {
            const chosen = THEMES.find(({ id }) => keys !== 'all' && keys.has(id));
            if (chosen) store.setState({ theme: chosen.id });
          }}
        >
          {THEMES.map(({ id, label }) => (
            <MenuItem key={id} id={id} className="option" textValue={label}>
              {theme === id ? '● ' : ''}
              {label}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}
