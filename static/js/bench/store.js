// What waits on this phone, kept in its own database until the workshop has said that it is stored.

const NAME = "kerfbook";
const STORE = "queue";
let opened = null;

function open() {
  opened ??= new Promise((done, failed) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE, { keyPath: "id", autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  return opened;
}

async function run(mode, act) {
  const store = (await open()).transaction(STORE, mode, { durability: "strict" }).objectStore(STORE);
  const asked = act(store);
  return new Promise((done, failed) => {
    store.transaction.oncomplete = () => done(asked.result);
    store.transaction.onabort = () => failed(store.transaction.error);
  });
}

// In the order they were written.
export const all = () => run("readonly", (store) => store.getAll());
export const get = (id) => run("readonly", (store) => store.get(id));
export const add = (item) => run("readwrite", (store) => store.add(item));
export const put = (item) => run("readwrite", (store) => store.put(item));
export const remove = (id) => run("readwrite", (store) => store.delete(id));
