import { useState } from 'preact/hooks';
import { expandLayout } from '../../../spokes/expandLayout.ts';
import type { Wheel } from '../../../spokes/wheel.ts';
import { Field } from '../../parts/Field.tsx';
import { useActions, useStore } from '../../store/useStore.ts';
import { tensionText } from '../judge/showTension.ts';
import { calibrationOf, statedPercent } from './calibrationOf.ts';
import { type FigureField, readFigure, type Units } from './figureField.ts';

const LOAD: FigureField = { path: 'load', label: 'Its tension', quantity: 'tension', low: 50, high: 3000 };
const U_LOAD: FigureField = { path: 'uLoad', label: 'good to ±', quantity: 'percent', low: 0.1, high: 30 };

/**
 * Spokes of this wheel whose tension is known by other means: they teach how firmly hub and rim hold, which helps most on composite and on short thick
 * spokes. The stated ± is taken as two standard uncertainties.
 */
export function KnownTensions({ wheel }: { readonly wheel: Wheel }) {
  const actions = useActions();
  const tension = useStore((state) => state.preferences.tensionUnit);
  const units: Units = { length: 'mm', tension };
  const laid = expandLayout(wheel.layout);
  const count = laid.ok ? laid.spokes.length : 0;
  const [spoke, setSpoke] = useState('');
  const [load, setLoad] = useState('');
  const [u, setU] = useState('3');
  const [method, setMethod] = useState('');
  const spokeField: FigureField = {
    path: 'spoke',
    label: 'Spoke',
    quantity: 'whole',
    low: 1,
    high: Math.max(1, count),
  };
  const read = {
    spoke: readFigure(spoke, spokeField, units),
    load: readFigure(load, LOAD, units),
    u: readFigure(u, U_LOAD, units),
  };
  const said = (raw: string, result: ReturnType<typeof readFigure>) =>
    raw.trim() === '' || result.ok ? undefined : result.wrong;
  const round = wheel.rounds.findLast((one) => one.plucks.length > 0);
  const ready = read.spoke.ok && read.load.ok && read.u.ok && round !== undefined;
  const add = () => {
    if (!read.spoke.ok || !read.load.ok || !read.u.ok || round === undefined) return;
    const [number, loadN, percent] = [read.spoke.value, read.load.value, read.u.value];
    if (number === undefined || loadN === undefined || percent === undefined) return;
    actions.addCalibration(wheel.id, calibrationOf(actions.newId(), round, number, loadN, percent, method));
    setSpoke('');
    setLoad('');
  };
  if (wheel.sides === undefined) return null;
  return (
    <details class="part">
      <summary>
        Known tensions{' '}
        <span class="gist">{wheel.calibrations.length === 0 ? 'none' : `${wheel.calibrations.length} given`}</span>
      </summary>
      <p>
        A spoke whose tension you know by a load cell, hung weights or a good gauge teaches how firmly hub and rim hold
        it. It is weighed in with its own ±, not obeyed.
      </p>
      <ul>
        {wheel.calibrations.map((one) => (
          <li key={one.id}>
            {one.spoke === undefined ? 'spare spoke' : `spoke ${one.spoke}`}: {tensionText(one.loadN, tension)} ±{' '}
            {statedPercent(one).toFixed(1)} %, {one.method}{' '}
            <button type="button" class="button" onClick={() => actions.removeCalibration(wheel.id, one.id)}>
              Remove
            </button>
          </li>
        ))}
      </ul>
      {round === undefined ? (
        <p class="note">Hear the wheel first: a known tension belongs to the round in which its spoke was heard.</p>
      ) : (
        <>
          <div class="pair">
            <Field
              label={spokeField.label}
              kind="whole"
              value={spoke}
              wrong={said(spoke, read.spoke)}
              onInput={setSpoke}
            />
            <Field label={LOAD.label} value={load} unit={tension} wrong={said(load, read.load)} onInput={setLoad} />
            <Field
              label={U_LOAD.label}
              value={u}
              unit="%"
              wrong={said(u, read.u)}
              onInput={setU}
              effect="Two standard uncertainties."
            />
          </div>
          <Field label="Known by" kind="text" value={method} onInput={setMethod} />
          <button type="button" class="button" disabled={!ready} onClick={add}>
            Add this tension
          </button>
        </>
      )}
    </details>
  );
}
