import { fixedAcross, type Across } from './across.js';
import { rowsChart, type ChartDrawing, type RowsChart } from './chart-rows.js';
import { termName } from './claim-text.js';
import { graphPicture } from './contact-graph-svg.js';
import { featuresChart, movesChart, openingsChart, openingsOf } from './distortion-chart.js';
import { abstractGraph } from './drawn-graph.js';
import { isGeometric, type GeometricContext, type PageContext } from './page/page-context.js';
import { PAPER } from './palette.js';
import { planPictures, type PictureFile } from './pictures.js';
import { clipped, plain } from './plain.js';
import { carriedChart, reservesChart } from './reserves-chart.js';
import { picture, words } from './svg.js';
import { ON_PAPER, type Theme } from './theme.js';
import { timelinePicture } from './timeline-picture.js';
import { tradeChart } from './trade-chart.js';
import { tradePoints } from './trade-points.js';
import { element } from './xml.js';

interface TitledChart {
  readonly title: string;
  readonly draw: (across: Across, theme: Theme) => ChartDrawing;
}

/** Width of a picture of charts and of the margin on either side, pixels. */
const SIZE = { width: 800, margin: 20 } as const;

const rows = (title: string, chart: RowsChart): TitledChart[] =>
  chart.rows.length === 0
    ? []
    : [{ title, draw: (across: Across, theme: Theme) => rowsChart(chart, across, theme) }];

/** Charts below one another as a picture of its own. */
function chartsPicture(title: string, charts: readonly TitledChart[]): string {
  const theme = ON_PAPER;
  const across = fixedAcross(SIZE.margin, SIZE.width - 2 * SIZE.margin);
  let y = 64;
  const content = charts.map((chart) => {
    const heading = words(SIZE.margin, y, chart.title, { ...theme.paint('strong'), 'font-size': 14 });
    const { content: marks, height } = chart.draw(across, theme);
    const drawn = element('g', { transform: `translate(0 ${y + 10})` }, ...marks);
    y += height + 42;
    return heading + drawn;
  });
  return picture([SIZE.width, y - 20], title, PAPER.ground, [
    words(SIZE.margin, 32, clipped(title, 80), { ...theme.paint('strong'), 'font-size': 17 }),
    ...content,
  ]);
}

function distortionPicture({ plan, scene }: GeometricContext): PictureFile[] {
  const openings = openingsOf(plan);
  if (openings.length === 0) return [];
  const title = `${plain(plan.weldment.name)}: distortion, a screening estimate`;
  const svg = chartsPicture(title, [
    ...rows('Tolerances after tacking', featuresChart(plan)),
    {
      title: 'How far seams stand open',
      draw: (across, theme) => openingsChart(openings, scene.weldment.fitUp.gap, across, theme),
    },
    ...rows('How far parts move, stage by stage', movesChart(plan)),
  ]);
  return [{ file: 'distortion.svg', svg }];
}

function tradePicture({ plan, trade }: PageContext): PictureFile[] {
  if (trade === undefined) return [];
  const points = tradePoints(trade, plan);
  const [first, second] = points.terms.map(termName) as [string, string];
  const title = `${plain(plan.weldment.name)}: trade of ${first} against ${second}`;
  const draw = (across: Across, theme: Theme): ChartDrawing => tradeChart(points, across, theme);
  return [{ file: 'trade.svg', svg: chartsPicture(title, [{ title: 'Plans between the two terms', draw }]) }];
}

/** Every picture of a plan for a paper: stages, contact graph, timeline, reserves, distortion, and a trade where there is one. */
export function reportPictures(context: PageContext): readonly PictureFile[] {
  if (!isGeometric(context)) {
    const graph = abstractGraph(context.plan, context.weldment);
    return [{ file: 'contact-graph.svg', svg: graphPicture(graph) }, ...tradePicture(context)];
  }
  const { plan, scene } = context;
  const timeline = timelinePicture(plan);
  const reserves = [
    ...rows('The least reserve of every stage', reservesChart(plan)),
    ...rows('The least reserve while a part is carried', carriedChart(plan)),
  ];
  return [
    ...planPictures(plan, scene),
    ...(timeline === undefined ? [] : [{ file: 'timeline.svg', svg: timeline }]),
    ...(reserves.length === 0
      ? []
      : [{ file: 'reserves.svg', svg: chartsPicture(`${plain(plan.weldment.name)}: reserves`, reserves) }]),
    ...distortionPicture(context),
    ...tradePicture(context),
  ];
}
