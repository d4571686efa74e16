import { createServer, type Socket } from 'node:net';
import { Aedes } from 'aedes';
import mqtt, { type MqttClient } from 'mqtt';

export type TestBroker = {
  url: string;
  /** Messages that the broker sent to a client and that were acknowledged, in their order. */
  acknowledged: string[];
  /** Publishes with QoS 1; resolves when the broker has it. */
  publish(topic: string, payload: object | string | Buffer, options?: { retain?: boolean }): Promise<void>;
  /** Cuts every connection; clients may come back at once. */
  cut(): void;
  close(): Promise<void>;
};

/** A real MQTT broker on loopback, with a publisher of its own. */
export async function startBroker(authenticate?: (user: string | undefined, password: string | undefined) => boolean): Promise<TestBroker> {
  const broker = await Aedes.createBroker();
  if (authenticate) broker.authenticate = (client, user, password, done) => done(null, client.id === 'publisher' || authenticate(user, password?.toString()));
  const acknowledged: string[] = [];
  broker.on('ack', (packet, client) => { if (packet && 'topic' in packet && client.id !== 'publisher') acknowledged.push(String(packet.payload)); });
  const server = createServer(broker.handle);
  const sockets = new Set<Socket>();
  server.on('connection', (socket) => { sockets.add(socket); socket.once('close', () => sockets.delete(socket)); });
  await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', resolve); });
  const address = server.address();
  const url = `mqtt://127.0.0.1:${typeof address === 'object' && address ? address.port : 0}`;
  const publisher: MqttClient = await mqtt.connectAsync(url, { clientId: 'publisher', reconnectPeriod: 100 });
  return {
    url, acknowledged,
    publish: async (topic, payload, { retain = false } = {}) => { await publisher.publishAsync(topic, typeof payload === 'string' || Buffer.isBuffer(payload) ? payload : JSON.stringify(payload), { qos: 1, retain }); },
    cut: () => { for (const socket of sockets) socket.destroy(); },
    async close() {
      await publisher.endAsync(true);
      await new Promise<void>((resolve) => { broker.close(() => resolve()); });
      for (const socket of sockets) socket.destroy();
      await new Promise<void>((resolve) => { server.close(() => resolve()); });
    },
  };
}
