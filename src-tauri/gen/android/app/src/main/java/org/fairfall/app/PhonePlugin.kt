package org.fairfall.app

import android.app.Activity
import android.content.ActivityNotFoundException
import android.content.ClipData
import android.content.Intent
import android.view.WindowManager
import androidx.core.content.FileProvider
import app.tauri.annotation.Command
import app.tauri.annotation.InvokeArg
import app.tauri.annotation.TauriPlugin
import app.tauri.plugin.Invoke
import app.tauri.plugin.Plugin
import java.io.File

@InvokeArg
class ShareArgs {
  /** A file in the app's cache, which the file provider of the manifest may hand on. */
  lateinit var path: String
  lateinit var mime: String
}

@InvokeArg
class KeepAwakeArgs {
  var on: Boolean = false
}

/** What the Rust side asks of Android itself: src-tauri/src/surroundings/mobile.rs. The page cannot. */
@TauriPlugin
class PhonePlugin(private val activity: Activity) : Plugin(activity) {
  /** Opens the system's share sheet over one file. Whoever is chosen may read that file, once. */
  @Command
  fun share(invoke: Invoke) {
    val args = invoke.parseArgs(ShareArgs::class.java)
    try {
      val file = File(args.path)
      val uri = FileProvider.getUriForFile(activity, "${activity.packageName}.fileprovider", file)
      val send = Intent(Intent.ACTION_SEND).apply {
        type = args.mime
        putExtra(Intent.EXTRA_STREAM, uri)
        // The sheet itself reads the file too, for its preview: it goes by the clip's permission.
        clipData = ClipData.newRawUri(file.name, uri)
        addFlags(Intent.FLAG_GRANT_READ_URI_PERMISSION)
      }
      activity.startActivity(Intent.createChooser(send, null))
      invoke.resolve()
    } catch (e: IllegalArgumentException) {
      invoke.reject(e.message)
    } catch (e: ActivityNotFoundException) {
      invoke.reject(e.message)
    }
  }

  /** The screen stays on while the window is in front, or may sleep again. */
  @Command
  fun keepAwake(invoke: Invoke) {
    val args = invoke.parseArgs(KeepAwakeArgs::class.java)
    activity.runOnUiThread {
      val flag = WindowManager.LayoutParams.FLAG_KEEP_SCREEN_ON
      if (args.on) activity.window.addFlags(flag) else activity.window.clearFlags(flag)
      invoke.resolve()
    }
  }
}
