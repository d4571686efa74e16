import { Controller, Inject, Res } from '@nestjs/common';
import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { chartView, compareCharts as compareEndpoint, getChart, getChartCsv, getChartPoint, listStreams as listStreamsEndpoint } from '#contract/specifications';
import { Endpoint, Input, type Reply, type Session, SignedIn } from '../platform/endpoint.js';
import { isWithin, narrowSpan } from '../platform/scope.js';
import { Work } from '../platform/work.js';
import { chartCsv, chartFileName } from './chart-csv.js';
import { findPoint } from './chart-point.store.js';
import { pointView } from './chart-point.view.js';
import { findChart } from './chart.store.js';
import { chartOf } from './chart-of.js';
import { chartText } from './chart.view.js';
import { compareCharts } from './compare-charts.js';
import { listStreams } from './stream-list.store.js';

const SHOWN = 500;
const MOST = 20_000;

@Controller()
export class SpecificationsController {
  constructor(@Inject(Work) private readonly work: Work) {}

  @Endpoint(listStreamsEndpoint)
  async streams(@Input() { query }: InputOf<typeof listStreamsEndpoint>, @SignedIn() session: Session) {
    return { streams: await listStreams(this.work.read, session.plantId, query, session.scope) };
  }

  @Endpoint(compareEndpoint)
  compare(@Input() { query }: InputOf<typeof compareEndpoint>, @SignedIn() session: Session, @Res({ passthrough: true }) reply: Reply) {
    void reply.type('application/json; charset=utf-8');
    return compareCharts(this.work.read, session.plantId, query);
  }

  @Endpoint(getChart)
  async chart(@Input() { params, query }: InputOf<typeof getChart>, @SignedIn() session: Session, @Res({ passthrough: true }) reply: Reply) {
    const text = await this.textOf(session, params.streamId, query);
    void reply.type('application/json; charset=utf-8');
    return text;
  }

  @Endpoint(getChartCsv)
  async csv(@Input() { params, query }: InputOf<typeof getChartCsv>, @SignedIn() session: Session, @Res({ passthrough: true }) reply: Reply) {
    const view = chartView.parse(JSON.parse(await this.textOf(session, params.streamId, query)));
    void reply.type('text/csv; charset=utf-8').header('content-disposition', `attachment; filename="${chartFileName(view)}"`);
    return chartCsv(view);
  }

  @Endpoint(getChartPoint)
  async point(@Input() { params, query }: InputOf<typeof getChartPoint>, @SignedIn() session: Session) {
    const row = await findPoint(this.work.read, session.plantId, params.streamId, query.takenAt, query.sequence);
    if (!row || (session.scope && !isWithin(session.scope, query.takenAt))) throw new Problem('not-found', `Stream ${params.streamId} has no subgroup of ${query.takenAt}, sequence ${query.sequence}.`);
    return pointView(row);
  }

  private async textOf({ plantId, scope }: Session, streamId: number, asked: InputOf<typeof getChart>['query']): Promise<string> {
    const { last, from, to } = narrowSpan(asked, scope);
    const row = await findChart(this.work.read, plantId, streamId, { last: last ?? (asked.from === undefined ? SHOWN : MOST), from, to });
    if (!row) throw new Problem('not-found', `There is no stream ${streamId}.`);
    const text = chartText(row);
    return scope && from ? JSON.stringify(chartOf(chartView.parse(JSON.parse(text)), scope, from)) : text;
  }
}
