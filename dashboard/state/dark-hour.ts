import { oxygenOrder, type TankAtPowerCut } from '../../rules/alerts/oxygen-order.js';
import { exactly } from '../../rules/statistics/interval.js';
import type { Picture } from '../../rules/wire/picture.js';
import { momentWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { oxygenOrderLine, oxygenOrderTitle } from '../../rules/words/oxygen-order.js';

/** A probe's own accuracy, mg/L. Common practice, no source. */
const ACCURACY_MG_L = 0.3;
const SLOPE_SHARE = 0.3;

const tankOf = ({ channels, alarms }: Picture, placeId: string): TankAtPowerCut => {
  const oxygen = channels.find(
    (one) => one.placeId === placeId && one.quantity === 'oxygen-mg-l' && one.value !== undefined,
  );
  const falling = alarms.find(
    ({ finding }) => finding.placeId === placeId && finding.condition === 'oxygen-falling',
  )?.finding;
  const slope = falling?.channelId === oxygen?.id ? falling?.perHour : undefined;
  const limitMgL = oxygen?.wants?.limitLow ?? oxygen?.wants?.ceilingLow;
  if (oxygen?.value === undefined) return { placeId };
  const { value } = oxygen;
  return {
    placeId,
    oxygenMgL: { low: Math.max(0, value - ACCURACY_MG_L), mid: value, high: value + ACCURACY_MG_L },
    ...(limitMgL === undefined ? {} : { limitMgL }),
    ...(slope === undefined || slope >= 0
      ? {}
      : {
          slopeMgLPerH: { low: slope * (1 + SLOPE_SHARE), mid: slope, high: slope * (1 - SLOPE_SHARE) },
          solubilityMgL: exactly(value).mid,
        }),
  };
};

/** What is left with the device for the hour without network: tanks in the order in which their oxygen runs out. */
export const darkHourPage = (picture: Picture, reader: Reader) => {
  const tanks = picture.places.filter(({ kind, stage }) => kind === 'tank' && stage !== 'empty');
  const order = oxygenOrder(tanks.map(({ id }) => tankOf(picture, id)));
  const nameOf = (id: string): string => tanks.find((tank) => tank.id === id)?.name ?? id;
  return {
    title: oxygenOrderTitle(reader),
    lines: order.map((place) => oxygenOrderLine(place, nameOf(place.placeId), picture.atMs, reader)),
    savedAt: momentWords(picture.atMs, picture.atMs, reader),
  };
};
