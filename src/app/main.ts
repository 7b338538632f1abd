import '../files/withoutEval.ts'
import { mount } from 'svelte'
import './app.css'
import App from './App.svelte'
import { demoSites } from './demoSites.ts'
import { registerOffline } from './registerOffline.ts'
import { startApp } from './startApp.ts'

// The service worker is part of the build; while developing there is none, and none where all is one file.
const isServed = import.meta.env.PROD && import.meta.env.MODE !== 'single'
const offline = isServed ? registerOffline() : null
const target = document.getElementById('app')
if (target) mount(App, { target, props: { app: startApp(), demoSites, offline } })
