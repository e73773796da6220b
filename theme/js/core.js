/* What every script of a sheet begins with. A feature is a function of one sheet's main part; it may be mounted on
   any number of sheets, and once on each. Everything stands on the sheets without any of these files. */
"use strict";
const mounts = {};
const dollars = (cents) => "$" + (cents / 100).toLocaleString("en-US", cents % 100 ? { minimumFractionDigits: 2 } : {});
const kept = {
  read(place) { try { return JSON.parse(localStorage.getItem(place)); } catch (error) { return null; } },
  write(place, value) { try { localStorage.setItem(place, JSON.stringify(value)); } catch (error) { /* not kept */ } },
  wipe(job) { try { Object.keys(localStorage).filter((place) => place.includes(job)).forEach((place) => kept.forget(place)); } catch (error) { /* nothing was kept */ } },
  forget(place) { try { localStorage.removeItem(place); } catch (error) { /* nothing was kept */ } },
};
