import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils';
import type { SchemaEngine as Engine } from '@prisma/schema-engine-wasm';
import type pg from 'pg';

// Node.js has it; the compiler's Node.js types do not name it.
declare const WebAssembly: { instantiate(bytes: Uint8Array, imports: object): Promise<{ instance: { exports: Record<string, unknown> } }> };

// The engine reports a crash of its own through this global before it throws.
const panics = globalThis as unknown as { PRISMA_WASM_PANIC_REGISTRY?: { message: string; set_message(text: string): void } };

let loaded: Promise<typeof import('@prisma/schema-engine-wasm')> | undefined;

/** Prisma's own migration engine without a binary: the WebAssembly is instantiated once a process. Works offline. */
async function load() {
  loaded ??= (async () => {
    panics.PRISMA_WASM_PANIC_REGISTRY ??= { message: '', set_message(text) { this.message = text; } };
    const bindings = await import('@prisma/schema-engine-wasm/schema_engine_bg');
    const wasmPath = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm').replace(/schema_engine\.js$/, 'schema_engine_bg.wasm');
    const { instance } = await WebAssembly.instantiate(await readFile(wasmPath), {
      './schema_engine_bg.js': bindings,
    });
    const glue = bindings as unknown as { __wbg_set_wasm(exports: object): void };
    glue.__wbg_set_wasm(instance.exports);
    (instance.exports['__wbindgen_start'] as () => void)();
    return bindings as unknown as typeof import('@prisma/schema-engine-wasm');
  })();
  return loaded;
}

/** Runs `use` with an engine on the given pool. The pool must be its own and be ended by the caller: the engine leaves an advisory lock on its connection. */
export async function withSchemaEngine<Answer>(pool: pg.Pool, schema: [string, string][], use: (engine: Engine) => Promise<Answer>): Promise<Answer> {
  const { SchemaEngine } = await load();
  const engine = await SchemaEngine.new({ datamodels: schema }, () => {}, bindMigrationAwareSqlAdapterFactory(wholeScripts(pool)));
  try {
    return await use(engine);
  } catch (error) {
    const message = panics.PRISMA_WASM_PANIC_REGISTRY?.message;
    throw message ? new Error(`the schema engine failed: ${message}`, { cause: error }) : error;
  } finally {
    engine.free();
  }
}

/** The adapter cuts a script at every semicolon, which breaks function bodies. Sent whole, it is also one transaction: a migration is applied or not. */
function wholeScripts(pool: pg.Pool): PrismaPg {
  const factory = new PrismaPg(pool);
  const connect = factory.connect.bind(factory);
  factory.connect = async () => {
    const adapter = await connect();
    adapter.executeScript = async (script) => { await pool.query(script); };
    return adapter;
  };
  return factory;
}
