// Writes decoded.csv: reports.txt as decoded by the independent library
// metar-taf-parser, to compare with weather.ParseMETAR. Run in a folder where
// it is installed:
//
//   npm install metar-taf-parser@9.1.3 && node generate.js > decoded.csv
const fs = require('fs');
const path = require('path');

(async () => {
  const { parseMetar, RemarkType } = await import('metar-taf-parser');
  console.log('# reports.txt as decoded by metar-taf-parser 9.1.3 (npm, MIT licence); temperatures are the tenths of the remarks where sent.');
  console.log('# Command: npm install metar-taf-parser@9.1.3 && node generate.js > decoded.csv');
  console.log('station,day,hour,minute,wind,gust,wind_unit,wind_from_deg,temp_c,dew_point_c,altimeter,altimeter_unit');
  const text = fs.readFileSync(path.join(__dirname, 'reports.txt'), 'utf8');
  for (const line of text.split('\n').filter((l) => l && !l.startsWith('#'))) {
    // The library wants COR behind the station, where the older code had it.
    const m = parseMetar(line.replace(/^METAR COR (\S+ \S+)/, 'METAR $1 COR'));
    const tenths = m.remarks.find((r) => r.type === RemarkType.HourlyTemperatureDewPoint) || {};
    const calm = m.wind.speed === 0;
    console.log([m.station, m.day, m.hour, m.minute, m.wind.speed, m.wind.gust ?? '', m.wind.unit,
      calm ? '' : m.wind.degrees ?? '',
      tenths.temperature ?? m.temperature, tenths.dewPoint ?? m.dewPoint,
      m.altimeter.value, m.altimeter.unit].join(','));
  }
})();
