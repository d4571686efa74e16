import { connect, type IPublishPacket, type MqttClient } from 'mqtt';
import type { RunnableFeed } from './monitors.store.js';

/** `acknowledge` tells the broker that the message is stored; without it the broker sends it again after the next connection. */
export type Arrived = { topic: string; payload: Uint8Array<ArrayBuffer>; retained: boolean; acknowledge(): void };
export type ConnectionState = { state: 'connecting' | 'connected' | 'waiting' | 'refused'; detail: string };
export type MqttParts = {
  feed: RunnableFeed;
  filters: readonly string[];
  environment: NodeJS.ProcessEnv;
  /** Resolves when the next message may be read: until then the broker's bytes stay in the socket. */
  take(message: Arrived): Promise<void> | null;
  changed(state: ConnectionState): void;
};
export type MqttConnection = { stop(): Promise<void> };

const [FIRST_PAUSE_MS, LONGEST_PAUSE_MS, GOODBYE_MS] = [500, 30_000, 1000];
/** How many messages a broker of MQTT 5 may have under way to us before it waits for acknowledgements. */
const RECEIVE_MAXIMUM = 2000;
/** A broker keeps what was not acknowledged for so long while we are away. */
const SESSION_SECONDS = 7 * 86_400;

/**
 * Connects and subscribes with QoS 1 in a session that the broker keeps, and comes back with growing pauses whenever
 * the connection is lost. The client library sends an acknowledgement before it reads the next message; here messages
 * are read on at once, up to what `take` allows, and acknowledged when their batch is committed.
 */
export function connectMqtt({ feed, filters, environment, take, changed }: MqttParts): MqttConnection {
  const secret = (variable: string | null) => (variable === null ? undefined : environment[variable]);
  const missing = [feed.userVariable, feed.passwordVariable].filter((variable) => variable !== null && !environment[variable]);
  if (missing.length > 0) {
    changed({ state: 'refused', detail: `environment variable ${missing.join(' and ')} is not set on the server` });
    return { stop: async () => {} };
  }
  const client = connect(feed.url, {
    clientId: feed.clientId, protocolVersion: feed.protocol, clean: false, keepalive: 30, connectTimeout: 10_000, reconnectPeriod: FIRST_PAUSE_MS, resubscribe: false,
    username: secret(feed.userVariable), password: secret(feed.passwordVariable),
    ...(feed.protocol === 5 ? { properties: { sessionExpiryInterval: SESSION_SECONDS, receiveMaximum: RECEIVE_MAXIMUM } } : {}),
  });
  let detail = '';
  // An acknowledgement belongs to the connection that brought the message: in the next one its number means another.
  let connection = 0;
  client.handleMessage = (packet, next) => {
    const mine = connection;
    const waiting = take(arrivedOf(client, packet, () => mine === connection));
    // With an error the library goes on to the next message and leaves the acknowledgement to us.
    const readOn = () => next(packet.qos === 0 ? undefined : ACKNOWLEDGED_LATER);
    if (waiting) void waiting.then(readOn, readOn);
    else readOn();
  };
  client.on('connect', () => {
    client.options.reconnectPeriod = FIRST_PAUSE_MS;
    detail = '';
    subscribe(client, filters, changed);
  });
  client.on('close', () => {
    connection += 1;
    client.options.reconnectPeriod = Math.min(LONGEST_PAUSE_MS, (client.options.reconnectPeriod ?? FIRST_PAUSE_MS) * 2);
    changed({ state: 'waiting', detail: detail || 'the broker closed the connection' });
  });
  client.on('error', (error) => { detail = wordsOf(error); changed({ state: 'waiting', detail }); });
  changed({ state: 'connecting', detail: '' });
  return {
    // Acknowledgements that were just written go out with the goodbye; a broker that does not take it is left.
    stop: () => new Promise((resolve) => {
      const leave = setTimeout(() => { client.end(true, {}, () => resolve()); }, GOODBYE_MS);
      client.end(false, {}, () => { clearTimeout(leave); resolve(); });
    }),
  };
}

const ACKNOWLEDGED_LATER = new Error('acknowledged when committed');

function arrivedOf(client: MqttClient, packet: IPublishPacket, sameConnection: () => boolean): Arrived {
  return {
    topic: packet.topic, payload: new Uint8Array(Buffer.from(packet.payload)), retained: packet.retain,
    acknowledge() {
      if (packet.qos === 1 && packet.messageId !== undefined && client.connected && sameConnection()) client['_sendPacket']({ cmd: 'puback', messageId: packet.messageId, reasonCode: 0 });
    },
  };
}

function subscribe(client: MqttClient, filters: readonly string[], changed: MqttParts['changed']): void {
  if (filters.length === 0) {
    changed({ state: 'connected', detail: 'no topic is mapped yet' });
    return;
  }
  client.subscribe([...filters], { qos: 1 }, (error, granted) => {
    const refused = (granted ?? []).filter(({ qos }) => qos >= 128).map(({ topic }) => topic);
    if (refused.length > 0) changed({ state: 'refused', detail: `the broker does not let us read ${refused.join(', ')}` });
    else if (error) changed({ state: 'waiting', detail: wordsOf(error) });
    else changed({ state: 'connected', detail: '' });
  });
}

function wordsOf(error: Error): string {
  const { code, errors } = error as Error & { code?: unknown; errors?: Error[] };
  return error.message || errors?.map(({ message }) => message).join('; ') || String(code ?? 'the broker does not answer');
}
