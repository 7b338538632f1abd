import { mount } from 'svelte'
import './app.css'
import App from './App.svelte'
import { loadDemoSites } from './loadDemoSites.ts'

const target = document.getElementById('app')
if (target) mount(App, { target, props: { demoSites: loadDemoSites() } })
