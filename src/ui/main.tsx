import { render } from 'preact';
import { startApp } from './edge/startApp.ts';
import { keepUnitsEverywhere } from './parts/keepUnits.ts';
import { App } from './screens/App.tsx';
import { AppContext } from './store/useStore.ts';
import './styles/tokens.css';
import './styles/base.css';
import './styles/sheet.css';
import './styles/cards.css';
import './styles/form.css';
import './styles/listen.css';
import './styles/listenWide.css';
import './styles/largeText.css';
import './styles/judge.css';
import './styles/print.css';

keepUnitsEverywhere();
const root = document.getElementById('app');
if (root === null) throw new RangeError('there is no element #app; expected it in index.html');
const app = startApp();
render(
  <AppContext.Provider value={app}>
    <App />
  </AppContext.Provider>,
  root,
);
