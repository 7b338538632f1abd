import { mount } from 'svelte'
import './app.css'
import App from './App.svelte'
import { loadDemoSites } from './loadDemoSites.ts'
import { registerOffline } from './registerOffline.ts'

const target = document.getElementById('app')
if (target) mount(App, { target, props: { demoSites: loadDemoSites() } })

// The service worker is part of the build; while developing there is none.
if (import.meta.env.PROD) registerOffline()
