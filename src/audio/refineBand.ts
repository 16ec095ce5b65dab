import {
  type BandSignal,
  type Damped,
  type DampedFit,
  fitExponentials,
  type GlideStart,
  QUICK,
  residualOf,
  THOROUGH,
} from './fitExponentials.ts';
import { realFft } from './realFft.ts';

type Start = readonly Pick<Damped, 'omega' | 'decay' | 'glides'>[];

/** The chosen model of one band and the others that were tried. */
export interface BandModel {
  readonly fit: DampedFit;
  readonly rivals: readonly { readonly fit: DampedFit; readonly weight: number }[];
}

export interface BandTask {
  readonly band: BandSignal;
  readonly start: Start;
  /** Prior of the glide; absent: none is tried. */
  readonly glide?: GlideStart;
  /** Is there a fit with a glide already? */
  readonly gliding: boolean;
  /** How many components may be added. */
  readonly extra: number;
  /** Half width, rad/s, of the band in which components may be added. */
  readonly reach: number;
}

/**
 * Chooses how many damped exponentials a band holds, and whether they glide.
 * From the components seen as peaks, a glide or one more component is added as long as the Bayesian information criterion
 * falls. The models passed on the way keep their weight exp(−ΔBIC/2), so that doubt about the model can enter the uncertainty.
 * @source Raftery 1995, Sociol. Methodol. 25:111 (weights from the criterion).
 */
export function refineBand(task: BandTask): BandModel {
  const { band } = task;
  const tried: DampedFit[] = [];
  const run = (start: Start, glide: GlideStart | undefined, effort = QUICK) => {
    const fit = fitExponentials(band, start, glide, effort);
    tried.push(fit);
    return fit;
  };
  const glideFrom = (fit: DampedFit): GlideStart | undefined =>
    task.glide && (fit.hasGlide ? { ...task.glide, value: fit.glide } : task.glide);
  let best = run(task.start, task.gliding ? task.glide : undefined);
  let added = 0;
  for (;;) {
    const options: DampedFit[] = [];
    if (!best.hasGlide && task.glide) options.push(run(best.components, task.glide));
    if (added < task.extra) {
      const kept = best.hasGlide ? glideFrom(best) : undefined;
      for (const start of withAnother(task, best)) options.push(run(start, kept));
    }
    const next = options.sort((a, b) => a.bic - b.bic)[0];
    if (!next || next.bic > best.bic - 1) break;
    if (next.components.length > best.components.length) added++;
    best = next;
  }
  const polished = fitExponentials(band, best.components, best.hasGlide ? glideFrom(best) : undefined, THOROUGH);
  if (polished.bic <= best.bic + 1e-6) best = polished;
  const rivals = tried
    .filter((fit) => fit.parameters !== best.parameters || fit.hasGlide !== best.hasGlide)
    .map((fit) => ({ fit, weight: Math.exp(-0.5 * Math.max(0, fit.bic - best.bic)) }))
    .filter((r) => r.weight > 1e-3);
  return { fit: best, rivals };
}

/** Starts with one component more: at the strongest line of what the fit leaves, and with the first one split in two. */
function withAnother(task: BandTask, fit: DampedFit): Start[] {
  const lead = fit.components[0];
  if (!lead) return [];
  const line = strongestLeft(task, fit);
  const starts: Start[] = [[...fit.components, line]];
  const apart = line.omega - lead.omega;
  // Within the line's own width the residual of a doublet is a dipole: try both sides.
  if (Math.abs(apart) < 3 * lead.decay + 6) {
    const step = Math.max(1.2, 0.6 * lead.decay);
    for (const side of [-1, 1])
      starts.push([
        { ...lead, omega: lead.omega - 0.3 * side * step },
        ...fit.components.slice(1),
        { ...lead, omega: lead.omega + side * step },
      ]);
  }
  return starts;
}

/** The strongest line of what the fit leaves. */
function strongestLeft(task: BandTask, fit: DampedFit): Pick<Damped, 'omega' | 'decay' | 'glides'> {
  const rest = residualOf(task.band, fit);
  let size = 64;
  while (size < 2 * task.band.count) size *= 2;
  const padded = new Float64Array(2 * size);
  padded.set(rest);
  const bins = realFft(size).complex(padded);
  let most = -1;
  let at = 0;
  const step = (2 * Math.PI * task.band.rateHz) / size;
  const reach = Math.min(size / 2 - 1, Math.floor(task.reach / step));
  for (let d = -reach; d <= reach; d++) {
    const k = d < 0 ? d + size : d;
    const power = (bins[2 * k] as number) ** 2 + (bins[2 * k + 1] as number) ** 2;
    if (power > most) {
      most = power;
      at = d;
    }
  }
  const lead = fit.components[0];
  const omega = at * step;
  const near = Math.abs(omega - (lead?.omega ?? 0)) < 0.012 * 2 * Math.PI * task.band.centreHz;
  return { omega, decay: lead?.decay ?? 8, glides: near };
}
