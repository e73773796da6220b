/* What every script of a sheet begins with. A feature is a function of one sheet's main part; it may be mounted on
   any number of sheets, and once on each. Everything stands on the sheets without any of these files. */
"use strict";
const mounts = {};
const dollars = (cents) => "$" + (cents / 100).toLocaleString("en-US", cents % 100 ? { minimumFractionDigits: 2 } : {});
/* A forecast to the nearest hundred dollars, halves upward, as every forecast of the sheets is said. */
const near = (cents) => dollars(Math.floor((cents + 5000) / 10000) * 10000);
/* Figures as the build wrote them for a script: word=value, one after another. */
const looked = (text) => Object.fromEntries(text.trim().split(" ").map((one) => one.split("=")).map(([word, value]) => [word, Number(value)]));
const kept = {
  read(place) { try { return JSON.parse(localStorage.getItem(place)); } catch (error) { return null; } },
  write(place, value) { try { localStorage.setItem(place, JSON.stringify(value)); } catch (error) { /* not kept */ } },
  wipe(job) { try { Object.keys(localStorage).filter((place) => place.includes(job)).forEach((place) => kept.forget(place)); } catch (error) { /* nothing was kept */ } },
  forget(place) { try { localStorage.removeItem(place); } catch (error) { /* nothing was kept */ } },
};
/* The place on a page that its address names: in a sealed document it stands last, behind the key and the page. */
const placed = () => location.hash.slice(1).split(".").pop();
