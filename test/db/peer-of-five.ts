import { createServer, type Socket } from 'node:net';
import { generate, type IConnectPacket, parser } from 'mqtt-packet';

export type PeerOfFive = { url: string; connects: IConnectPacket[]; acknowledged: number[]; send(topic: string, payload: string, messageId: number): void; close(): Promise<void> };

/** The broker's side of MQTT 5 as far as a subscriber sees it: the broker of the other tests speaks 3.1.1 only. */
export async function startPeerOfFive(): Promise<PeerOfFive> {
  const connects: IConnectPacket[] = [];
  const acknowledged: number[] = [];
  const sockets = new Set<Socket>();
  const five = { protocolVersion: 5 };
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.once('close', () => sockets.delete(socket));
    socket.on('error', () => {});
    const packets = parser(five);
    packets.on('packet', (packet) => {
      if (packet.cmd === 'connect') {
        connects.push(packet);
        socket.write(generate({ cmd: 'connack', reasonCode: 0, sessionPresent: false }, five));
      }
      if (packet.cmd === 'subscribe') socket.write(generate({ cmd: 'suback', messageId: packet.messageId ?? 0, granted: packet.subscriptions.map(() => 1) }, five));
      if (packet.cmd === 'pingreq') socket.write(generate({ cmd: 'pingresp' }, five));
      if (packet.cmd === 'puback') acknowledged.push(packet.messageId ?? 0);
    });
    socket.on('data', (bytes) => packets.parse(bytes));
  });
  await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', resolve); });
  const address = server.address();
  return {
    url: `mqtt://127.0.0.1:${typeof address === 'object' && address ? address.port : 0}`, connects, acknowledged,
    send: (topic, payload, messageId) => { for (const socket of sockets) socket.write(generate({ cmd: 'publish', topic, payload, qos: 1, messageId, dup: false, retain: false }, five)); },
    async close() {
      for (const socket of sockets) socket.destroy();
      await new Promise<void>((resolve) => { server.close(() => resolve()); });
    },
  };
}
