// Makes reference.json: random noisy-OR networks with soft reports, and the
// posteriors that an outside general-purpose engine gives for them.
//
// Engine: bayesjs 0.6.5 (MIT, npm registry), its junction tree, checked here
// against its own enumeration. It knows nothing of noisy-OR or of soft
// evidence: every family is written out as a full table, and every report
// becomes a child node that is seen to be true.
//
//   npm install --prefix DIR bayesjs@0.6.5
//   NODE_PATH=DIR/node_modules node reference.mjs          writes reference.json
//   NODE_PATH=DIR/node_modules node reference.mjs time     times the engine on it
//
// All numbers are drawn from a fixed seed; none describes a real unit.
import { createRequire } from 'node:module'
import { readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'

const dir = process.env.NODE_PATH
const require = createRequire(path.join(path.resolve(dir ?? '.'), '..', 'x.js'))
const { inferences, inferAll } = require('bayesjs')
const file = new URL('reference.json', import.meta.url)

// Mulberry32, a public-domain generator of 32 bits.
let seed = 20240611
function random () {
  seed = (seed + 0x6d2b79f5) | 0
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed)
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296
}
const pick = n => Math.floor(random() * n)
const round = x => Number(x.toPrecision(4))

function flat (size) {
  const nodes = []
  for (let i = 0; i < size; i++) {
    const links = []
    for (let p = 0; p < i; p++) {
      if (random() < 3 / size && links.length < 5) links.push([p, round(random())])
    }
    nodes.push({ leak: round(random() * (links.length ? 0.2 : 0.6)), links })
  }
  const evidence = []
  for (let r = pick(6); r >= 0; r--) evidence.push([pick(size), round(0.02 + 0.98 * random()), round(0.02 + 0.98 * random())])
  return { nodes, evidence }
}

// Causes, modes, effects and findings, as in a unit but small.
function layers (counts, reports) {
  const nodes = []
  let before = []
  const first = counts.slice(0, -1).reduce((a, b) => a + b, 0)
  for (const count of counts) {
    const layer = []
    for (let i = 0; i < count; i++) {
      const links = []
      const near = before.length ? Math.floor(i * before.length / count) : 0
      for (let k = before.length ? 1 + pick(3) : 0; k > 0; k--) {
        const p = before[(near + pick(4)) % before.length]
        if (!links.some(l => l[0] === p)) links.push([p, round(0.3 + 0.6 * random())])
      }
      layer.push(nodes.length)
      nodes.push({ leak: round(links.length ? 0.001 + 0.02 * random() : 0.02 + 0.1 * random()), links })
    }
    before = layer
  }
  const evidence = []
  const order = [...before].sort(() => random() - 0.5).slice(0, reports)
  for (const f of order) {
    const hit = round(0.75 + 0.2 * random()); const wrong = round(0.02 + 0.1 * random())
    evidence.push(random() < 0.4 ? [f, hit, wrong] : [f, round(1 - hit), round(1 - wrong)])
  }
  return { nodes, evidence, first }
}

// The same network for the outside engine.
function tables ({ nodes, evidence }) {
  const network = {}; const given = {}
  const add = (id, parents, on) => {
    const cpt = []
    for (let c = 0; c < 2 ** parents.length; c++) {
      const when = {}
      parents.forEach((p, i) => { when[p] = c >> i & 1 ? 'T' : 'F' })
      const p = on(c)
      cpt.push({ when, then: { T: p, F: 1 - p } })
    }
    network[id] = { id, states: ['T', 'F'], parents, cpt: parents.length ? cpt : cpt[0].then }
  }
  nodes.forEach((node, i) => add('n' + i, node.links.map(l => 'n' + l[0]), c =>
    1 - node.links.reduce((off, l, j) => c >> j & 1 ? off * (1 - l[1]) : off, 1 - node.leak)))
  evidence.forEach(([node, on, off], r) => {
    add('r' + r, ['n' + node], c => c ? on : off)
    given['r' + r] = 'T'
  })
  return { network, given }
}

function solve (net) {
  const { network, given } = tables(net)
  const all = inferAll(network, given, { force: true, precision: 15 })
  return net.nodes.map((_, i) => all['n' + i].T)
}

if (process.argv[2] === 'time') {
  for (const net of JSON.parse(readFileSync(file)).networks) {
    if (!net.timed) continue
    const took = []
    for (let i = 0; i < 7; i++) {
      const start = process.hrtime.bigint()
      solve(net)
      took.push(Number(process.hrtime.bigint() - start) / 1e6)
    }
    took.sort((a, b) => a - b)
    console.log(`${net.name}: ${net.nodes.length} nodes, ${net.evidence.length} reports, median ${took[3].toFixed(2)} ms`)
  }
} else {
  const networks = []
  for (let i = 0; i < 40; i++) {
    const net = { name: 'flat ' + i, ...flat(4 + pick(7)) }
    net.posterior = solve(net)
    // Enumeration of the same engine, to trust its tree.
    const { network, given } = tables(net)
    net.nodes.forEach((_, k) => {
      const p = inferences.enumeration.infer(network, { ['n' + k]: 'T' }, given)
      if (Math.abs(p - net.posterior[k]) > 1e-9) throw new Error(`${net.name}, node ${k}: tree ${net.posterior[k]}, enumeration ${p}`)
    })
    networks.push(net)
  }
  for (const [i, shape] of [[[3, 6, 4, 8], 5], [[4, 10, 6, 12], 8], [[5, 14, 8, 18], 10], [[6, 20, 10, 24], 12], [[6, 30, 12, 30], 14]].entries()) {
    const net = { name: 'layers ' + i, timed: true, ...layers(...shape) }
    const start = process.hrtime.bigint()
    net.posterior = solve(net)
    console.error(net.name, Number(process.hrtime.bigint() - start) / 1e6, 'ms')
    networks.push(net)
  }
  writeFileSync(file, JSON.stringify({
    source: 'bayesjs 0.6.5 (npm registry), junction tree, made by reference.mjs',
    networks
  }, null, 1).replace(/\n\s+(?=[-\d\]])/g, ' ') + '\n')
}
