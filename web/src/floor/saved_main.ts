// The floor as one file, opened from a phone's storage: no program behind it, nothing asked of any network.
import '../fonts.css';
import '../app.css';
import { mount } from 'svelte';
import SavedFloor from './SavedFloor.svelte';

const target = document.getElementById('app');
if (!target) throw new Error('floor.html has no #app');
mount(SavedFloor, { target });
