import { useId } from 'react';
import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from './action-button.tsx';

interface FigureViewProps {
  readonly figure: Figure;
  readonly size?: 'large' | 'small';
}

/** A figure with its unit; its working opens in place, and stands as it was left when the figure comes again. */
export function FigureView({ figure, size = 'large' }: FigureViewProps) {
  const { store } = useServices();
  const place = useApp(({ stage }) => `${stage}/working of ${figure.label}`);
  const open = useApp(({ openSections }) => openSections[place] ?? false);
  const panelId = useId();
  const system = useApp((state) => state.unitSystem);
  const printed = printFigure(figure, system);
  return (
    <div className={`figure ${size}`}>
      <div className="figure-label">
        {figure.label} {figure.unconfirmed ? <span className="unconfirmed">{figure.unconfirmed}</span> : null}
      </div>
      <div className="figure-line">
        <span className="figure-value">
          {printed.value.number} <small>{printed.value.unit}</small>
        </span>
        <ActionButton
          look="quiet"
          aria-expanded={open}
          aria-controls={panelId}
          aria-label={`${open ? 'Hide' : 'Show'} working of ${figure.label}`}
          onPress={() =>
            store.setState(({ openSections }) => ({ openSections: { ...openSections, [place]: !open } }))
          }
        >
          {open ? 'Hide working' : 'Working'}
        </ActionButton>
      </div>
      {printed.also || printed.range ? (
        <div className="figure-also">{[printed.also, printed.range].filter(Boolean).join(' · ')}</div>
      ) : null}
      <div id={panelId} className="working" hidden={!open}>
        <div className="formula">{figure.formula}</div>
        {printed.inputs.length > 0 ? (
          <dl>
            {printed.inputs.map((input) => (
              <div key={input.symbol} className="contents">
                <dt>{input.symbol}</dt>
                <dd>
                  {input.text} — {input.label}
                </dd>
              </div>
            ))}
          </dl>
        ) : null}
        <div className="soft">Source: {printed.source}</div>
      </div>
    </div>
  );
}
