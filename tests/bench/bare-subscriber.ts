import { connect } from 'mqtt';

/** What a receiver costs that does nothing: takes each message, parses it, counts it. Says so when it has them all. */
const [, , url = '', expected = '0'] = process.argv;
let count = 0;
let sum = 0;
const client = connect(url, { clientId: 'bench-bare', clean: false });
client.on('message', (_topic, payload) => {
  const { v } = JSON.parse(payload.toString()) as { readonly v: number };
  sum += v;
  count += 1;
  if (count === Number(expected)) process.send?.({ count, sum });
});
client.on('connect', () => {
  client.subscribe('tanks/#', { qos: 1 }, () => process.send?.('subscribed'));
});
