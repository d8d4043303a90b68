// Spells of wet days, guesses of three points and intervals against published values and a
// statistics library (see test/reference/checks.json).

import {
  allWetChance,
  meanWetSpell,
  persistence,
  pertClassicVariance,
  pertMean,
  pertVariance,
  shareOf,
  spellChance,
  triangularMean,
  triangularQuantile,
  triangularShare,
  triangularVariance,
  wetChanceAhead,
  wetRunChance,
  wetShare,
  wilsonInterval,
} from '../../../engine/physics/weather-chance.ts';
import { checkTopic, type Inputs } from './reference-checks.ts';

const chain = (i: Inputs) => ({
  afterWet: i.number('p_wet_given_wet'),
  afterDry: i.has('p_wet_given_dry') ? i.number('p_wet_given_dry') : 0,
});

const three = (i: Inputs) => [i.number('a'), i.number('m'), i.number('b')] as const;

checkTopic('9 probability', 22, {
  triangular_mean: (i) => triangularMean(...three(i)),
  triangular_variance: (i) => triangularVariance(...three(i)),
  triangular_quantile: (i) => triangularQuantile(i.number('p'), ...three(i)),
  triangular_cdf: (i) => triangularShare(i.number('x'), ...three(i)),
  pert_mean: (i) => pertMean(...three(i)),
  pert_classic_variance: (i) => pertClassicVariance(i.number('a'), i.number('b')),
  beta_pert_variance: (i) => pertVariance(...three(i)),
  markov_stationary_wet: (i) => wetShare(chain(i)),
  markov_autocorrelation: (i) => persistence(chain(i)),
  markov_n_step_wet: (i) => wetChanceAhead(chain(i), i.number('start_wet'), i.number('n')),
  mean_wet_spell_days: (i) => meanWetSpell(chain(i)),
  prob_spell_at_least: (i) => spellChance(chain(i), i.number('length')),
  prob_run_of_wet_in_trip: (i) => wetRunChance(chain(i), i.number('run_length'), i.number('days')),
  prob_all_wet: (i) => allWetChance(chain(i), i.number('days')),
  lolp_from_counts: (i) => shareOf(i.number('days_short'), i.number('days_total')),
  wilson_interval_upper: (i) =>
    wilsonInterval(i.number('successes'), i.number('trials'), i.number('z')).high,
});
