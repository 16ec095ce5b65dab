import type { NewId } from '../../spokes/ownIds.ts';

const MANY: Readonly<Record<NewId['what'], string>> = {
  wheel: 'wheels',
  round: 'rounds',
  gauge: 'gauges',
  gaugeRound: 'rounds of gauge readings',
  calibration: 'known tensions',
};

/** What two things of one id become. */
export function newIdText({ what, was, now, wheelName }: NewId & { readonly wheelName: string }): string {
  const which = what === 'wheel' ? `the second, “${wheelName}”,` : 'the second';
  const where = what === 'wheel' ? 'Two' : `In “${wheelName}” two`;
  const kept = `${where} ${MANY[what]} that are not the same have the id “${was}”: both are kept, ${which} as “${now}”.`;
  return what === 'calibration'
    ? `${kept} Both count in every reading: remove the wrong one under Known tensions.`
    : kept;
}
