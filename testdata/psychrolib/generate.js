// Writes states.csv: moist air computed by the general psychrometrics library
// psychrolib (formulas of the ASHRAE Handbook Fundamentals 2017, ch. 1), to
// compare with package weather. Run in a folder where it is installed:
//
//   npm install psychrolib@1.1.1 && node generate.js > states.csv
const psy = require('psychrolib');
psy.SetUnitSystem(psy.SI);

// A fixed walk through the states, so that the file can be made again: the
// multiples of irrational numbers fill the ranges evenly.
const between = (lo, hi, i, step) => lo + (hi - lo) * ((i * step) % 1);

console.log('# Moist air by psychrolib 1.1.1 (npm; The PsychroLib Contributors, MIT licence), formulas of the');
console.log('# ASHRAE Handbook Fundamentals 2017, ch. 1, SI. Command: npm install psychrolib@1.1.1 && node generate.js > states.csv');
console.log('# Below the triple point psychrolib measures humidity over ice, package weather over liquid water.');
console.log('temp_c,pressure_pa,rh_pct,vapour_pa,humidity_ratio,dew_point_c,wet_bulb_c,density_kg_m3,dry_density_kg_m3');
for (let i = 1; i <= 60; i++) {
  const t = Number(between(-10, 45, i, Math.SQRT2).toFixed(1));
  const rh = Number(between(5, 100, i, Math.sqrt(3)).toFixed(0));
  const p = Number(between(70000, 104000, i, Math.sqrt(5)).toFixed(0));
  const ratio = psy.GetHumRatioFromRelHum(t, rh / 100, p);
  console.log([t, p, rh,
    psy.GetVapPresFromHumRatio(ratio, p).toFixed(3),
    ratio.toFixed(8),
    psy.GetTDewPointFromHumRatio(t, ratio, p).toFixed(4),
    psy.GetTWetBulbFromHumRatio(t, ratio, p).toFixed(4),
    psy.GetMoistAirDensity(t, ratio, p).toFixed(6),
    (1 / psy.GetMoistAirVolume(t, ratio, p)).toFixed(6)].join(','));
}
